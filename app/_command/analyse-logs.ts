import { createReadStream, existsSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import { basename, resolve } from 'node:path'
import type { Readable, Writable } from 'node:stream'
import { parseArgs } from 'node:util'
import type { ZodType } from 'zod'
import { withTable } from '@/app/_jobs/with-table'
import { describe } from '@/app/_words/describe'
import { errorWords } from '@/app/_words/errors'
import { analyse } from '@/lib/analyse'
import { correctionsSchema } from '@/lib/contract/corrections'
import { machineSchema } from '@/lib/contract/machine'
import { type Site, siteSchema } from '@/lib/contract/site'
import { TankwardError } from '@/lib/errors'
import { joinLogs } from '@/lib/import/join-logs'
import { readLog } from '@/lib/import/read-log'
import type { ReadLog } from '@/lib/import/report'
import { checkZone } from '@/lib/import/zone'
import { explained } from './explained'
import { jsonFault } from './json-fault'
import { systemFault } from './system-fault'
import { unpacked } from './unpacked'

const USAGE = `Usage: npm run --silent analyse -- LOG.csv [LOG2.csv …] --machine MACHINE.json [--site SITE.json]
  [--corrections CORRECTIONS.json] [--out FILE] [--explain FIGURE]
  LOG.csv may be LOG.csv.gz or a spreadsheet LOG.xlsx, or - for standard input. Several logs of one machine are joined in time.
  CORRECTIONS.json says which kind of phase stretches are: [{ "startS": 12.5, "endS": 40, "kind": "work-holding" }]
  in elapsed seconds from the first sample; where two overlap, the later wins.
  --explain prints how a figure was reached in the place of the result: its path, such as ledgerKWh.overRelief, or all.`

/** Exit codes of the contract. */
const GOOD = 0
const UNREADABLE = 1
const WRONG_USAGE = 2

class UsageError extends Error {}

/** Where the command reads and writes. */
export interface Streams {
  readonly stdin: Readable
  readonly stdout: Writable
  readonly stderr: Writable
}

interface Wanted {
  readonly logs: readonly string[]
  readonly machine: string
  readonly site: string | undefined
  readonly corrections: string | undefined
  readonly out: string | undefined
  readonly explain: string | undefined
}

/** Null where only the usage is asked for. */
function wantedFrom(args: string[]): Wanted | null {
  try {
    const { values, positionals } = parseArgs({
      args,
      allowPositionals: true,
      options: {
        machine: { type: 'string' },
        site: { type: 'string' },
        corrections: { type: 'string' },
        out: { type: 'string' },
        explain: { type: 'string' },
        help: { type: 'boolean' },
      },
    })
    if (values.help) return null
    if (positionals.filter((path) => path === '-').length > 1) throw new UsageError('- is named twice')
    if (positionals.length === 0) throw new UsageError('no log is named')
    const { machine, site, corrections, out, explain } = values
    if (!machine) throw new UsageError('--machine MACHINE.json is missing')
    return { logs: positionals, machine, site, corrections, out, explain }
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error))
  }
}

/** npm changes into the project's folder: paths are meant from where the person stands. */
const here = (path: string) => resolve(process.env.INIT_CWD ?? process.cwd(), path)

type Fault = 'machine-invalid' | 'site-invalid' | 'corrections-invalid'

function readJson<T>(path: string, schema: ZodType<T>, code: Fault): T {
  if (!existsSync(here(path))) throw new TankwardError('file-missing', { fileName: path })
  const text = readFileSync(here(path), 'utf8').replace(/^\uFEFF/, '')
  let json: unknown
  try {
    json = JSON.parse(text)
  } catch (error) {
    throw new TankwardError(code, { fileName: path, ...jsonFault(text, error) })
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
  streams: Streams,
): Promise<ReadLog> {
  const fileName = path === '-' ? 'standard input' : basename(path)
  if (path !== '-' && !existsSync(here(path))) throw new TankwardError('file-missing', { fileName: path })
  if (path !== '-' && statSync(here(path)).isDirectory()) {
    throw Object.assign(new Error(path), { code: 'EISDIR', syscall: 'read', path })
  }
  const source = path === '-' ? streams.stdin : createReadStream(here(path), { highWaterMark: 1 << 20 })
  const { stderr } = streams
  const showProgress = 'isTTY' in stderr && stderr.isTTY === true
  const log = await withTable(unpacked(source, fileName), fileName, ({ text, spreadsheet }) =>
    readLog(text, {
      fileName,
      machine,
      timeZone: site.timeZone,
      isPart,
      spreadsheet,
      onProgress: (_bytes, rows) => {
        if (showProgress) stderr.write(`\r${fileName}: ${rows} rows`)
      },
    }),
  )
  if (showProgress) stderr.write('\n')
  return log
}

function refuseZone(timeZone: string, fileName: string): void {
  try {
    checkZone(timeZone)
  } catch (error) {
    if (!(error instanceof TankwardError)) throw error
    throw new TankwardError(error.code, { ...error.values, fileName }, { cause: error })
  }
}

async function run(args: string[], streams: Streams): Promise<void> {
  const wanted = wantedFrom(args)
  if (wanted === null) {
    streams.stdout.write(`${USAGE}\n`)
    return
  }
  const machine = readJson(wanted.machine, machineSchema, 'machine-invalid')
  const site = wanted.site ? readJson(wanted.site, siteSchema, 'site-invalid') : siteSchema.parse({})
  if (wanted.site) refuseZone(site.timeZone, wanted.site)
  const corrections = wanted.corrections
    ? readJson(wanted.corrections, correctionsSchema, 'corrections-invalid')
    : []
  const logs: ReadLog[] = []
  for (const path of wanted.logs)
    logs.push(await readOne(path, machine, site, wanted.logs.length > 1, streams))
  const { analysis, grounds } = analyse(joinLogs(logs), machine, site, corrections)
  const answer = wanted.explain ? explained(wanted.explain, analysis, grounds) : describe(analysis)
  const json = `${JSON.stringify(answer, null, 1)}\n`
  if (wanted.out) writeFileSync(here(wanted.out), json)
  else streams.stdout.write(json)
}

/**
 * The command: reads the logs and the machine named by `args` and writes one result.
 * @returns the exit code of the contract: 0 a result, 1 not understood, 2 wrong usage
 */
export async function analyseLogs(args: string[], streams: Streams): Promise<number> {
  try {
    await run(args, streams)
    return GOOD
  } catch (error) {
    if (error instanceof UsageError) {
      streams.stderr.write(`${error.message}\n${USAGE}\n`)
      return WRONG_USAGE
    }
    if (error instanceof TankwardError) {
      const { title, detail } = errorWords(error)
      streams.stderr.write(`${title}: ${detail}\n`)
      return UNREADABLE
    }
    const fault = systemFault(error)
    if (fault === null) throw error
    streams.stderr.write(`${fault}\n`)
    return UNREADABLE
  }
}
