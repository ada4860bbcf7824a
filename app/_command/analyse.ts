import { createReadStream, existsSync, readFileSync, writeFileSync } from 'node:fs'
import { basename, resolve } from 'node:path'
import { parseArgs } from 'node:util'
import type { ZodType } from 'zod'
import { describe } from '@/app/_words/describe'
import { errorWords } from '@/app/_words/errors'
import { analyse } from '@/lib/analyse'
import { machineSchema } from '@/lib/contract/machine'
import { type Site, siteSchema } from '@/lib/contract/site'
import { TankwardError } from '@/lib/errors'
import { joinLogs } from '@/lib/import/join-logs'
import { readLog } from '@/lib/import/read-log'
import type { ReadLog } from '@/lib/import/report'
import { unpacked } from './unpacked'

const USAGE = `Usage: npm run --silent analyse -- LOG.csv [LOG2.csv …] --machine MACHINE.json [--site SITE.json] [--out FILE]
  LOG.csv may be LOG.csv.gz, or - for standard input. Several logs of one machine are joined in time.`

/** Exit codes of the contract. */
const UNREADABLE = 1
const WRONG_USAGE = 2

class UsageError extends Error {}

interface Wanted {
  readonly logs: readonly string[]
  readonly machine: string
  readonly site: string | undefined
  readonly out: string | undefined
}

function wantedFrom(args: string[]): Wanted {
  try {
    const { values, positionals } = parseArgs({
      args,
      allowPositionals: true,
      options: { machine: { type: 'string' }, site: { type: 'string' }, out: { type: 'string' } },
    })
    if (positionals.length === 0) throw new UsageError('no log is named')
    if (!values.machine) throw new UsageError('--machine MACHINE.json is missing')
    return { logs: positionals, machine: values.machine, site: values.site, out: values.out }
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error))
  }
}

/** npm changes into the project's folder: paths are meant from where the person stands. */
const here = (path: string) => resolve(process.env.INIT_CWD ?? process.cwd(), path)

function readJson<T>(path: string, schema: ZodType<T>, code: 'machine-invalid' | 'site-invalid'): T {
  if (!existsSync(here(path))) throw new TankwardError('file-missing', { fileName: path })
  let json: unknown
  try {
    json = JSON.parse(readFileSync(here(path), 'utf8').replace(/^\uFEFF/, ''))
  } catch (error) {
    throw new TankwardError(code, { fileName: path, actual: String(error) })
  }
  const parsed = schema.safeParse(json)
  if (parsed.success) return parsed.data
  const [issue] = parsed.error.issues
  throw new TankwardError(code, {
    fileName: path,
    place: issue.path.join('.'),
    expected: issue.message,
    actual: parsed.error.issues.length,
  })
}

async function readOne(
  path: string,
  machine: ReturnType<typeof machineSchema.parse>,
  site: Site,
  isPart: boolean,
): Promise<ReadLog> {
  const fileName = path === '-' ? 'standard input' : basename(path)
  if (path !== '-' && !existsSync(here(path))) throw new TankwardError('file-missing', { fileName: path })
  const source = path === '-' ? process.stdin : createReadStream(here(path), { highWaterMark: 1 << 20 })
  const showProgress = process.stderr.isTTY
  const log = await readLog(unpacked(source), {
    fileName,
    machine,
    timeZone: site.timeZone,
    isPart,
    onProgress: (_bytes, rows) => {
      if (showProgress) process.stderr.write(`\r${fileName}: ${rows} rows`)
    },
  })
  if (showProgress) process.stderr.write('\n')
  return log
}

async function run(args: string[]): Promise<void> {
  const wanted = wantedFrom(args)
  const machine = readJson(wanted.machine, machineSchema, 'machine-invalid')
  const site = wanted.site ? readJson(wanted.site, siteSchema, 'site-invalid') : siteSchema.parse({})
  const logs: ReadLog[] = []
  for (const path of wanted.logs) logs.push(await readOne(path, machine, site, wanted.logs.length > 1))
  const { analysis } = analyse(joinLogs(logs), machine, site)
  const json = `${JSON.stringify(describe(analysis), null, 1)}\n`
  if (wanted.out) writeFileSync(here(wanted.out), json)
  else process.stdout.write(json)
}

run(process.argv.slice(2)).catch((error: unknown) => {
  if (error instanceof UsageError) {
    process.stderr.write(`${error.message}\n${USAGE}\n`)
    process.exitCode = WRONG_USAGE
  } else if (error instanceof TankwardError) {
    const { title, detail } = errorWords(error)
    process.stderr.write(`${title}: ${detail}\n`)
    process.exitCode = UNREADABLE
  } else throw error
})
