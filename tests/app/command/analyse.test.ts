import { spawn } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Readable, Writable } from 'node:stream'
import { fileURLToPath } from 'node:url'
import { gzipSync } from 'node:zlib'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { analyseLogs } from '@/app/_command/analyse-logs'
import { type Result, resultSchema } from '@/lib/contract/result'

const root = fileURLToPath(new URL('../../..', import.meta.url))
const samples = join(root, 'sample-logs')
const machine = join(samples, 'shear-pump-flow.machine.json')
const log = join(samples, 'shear-pump-flow.csv')
const lines = readFileSync(log, 'utf8').trimEnd().split('\n')
const tsx = createRequire(import.meta.url).resolve('tsx/cli')

let folder = ''
/** A file of the test's own, named without its folder. */
const inFolder = /^[a-z.]+\.(?:csv|gz|json)$|^none\//
const at = (name: string): string => join(folder, name)

interface Ended {
  readonly code: number | null
  readonly out: string
  readonly err: string
}

/** Runs the command as a script would, in the folder of the test's files. */
function start(args: readonly string[], input: string | Uint8Array = ''): Promise<Ended> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [tsx, join(root, 'app/_command/analyse.ts'), ...args], {
      cwd: root,
      env: { ...process.env, INIT_CWD: folder },
    })
    let out = ''
    let err = ''
    child.stdout.setEncoding('utf8').on('data', (text: string) => {
      out += text
    })
    child.stderr.setEncoding('utf8').on('data', (text: string) => {
      err += text
    })
    child.on('error', reject)
    child.on('close', (code) => resolve({ code, out, err }))
    child.stdin.on('error', () => {})
    child.stdin.end(input)
  })
}

/** The same without a process of its own. */
async function run(args: readonly string[], input: string | Uint8Array = ''): Promise<Ended> {
  const written = ['', '']
  const [stdout, stderr] = [0, 1].map(
    (i) =>
      new Writable({
        write(text, _encoding, done) {
          written[i] += String(text)
          done()
        },
      }),
  )
  const stdin = Readable.from([Buffer.from(input)], { objectMode: false })
  const code = await analyseLogs([...args], { stdin, stdout, stderr })
  return { code, out: written[0], err: written[1] }
}

function resultOf({ code, out, err }: Ended): Result {
  expect({ code, err }).toEqual({ code: 0, err: '' })
  return resultSchema.parse(JSON.parse(out))
}

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tankward-command-'))
  writeFileSync(at('first.csv'), `${lines.slice(0, 2401).join('\n')}\n`)
  writeFileSync(at('second.csv'), `${[lines[0], ...lines.slice(2401)].join('\n')}\n`)
  writeFileSync(at('packed.csv.gz'), gzipSync(readFileSync(log)))
  writeFileSync(at('cut.csv.gz'), gzipSync(readFileSync(log)).subarray(0, 20_000))
  writeFileSync(at('prose.csv'), 'Dear colleague\n\nplease find the log attached\n')
  writeFileSync(at('broken.machine.json'), '{ "version": 1,\n  "name": oops }')
  writeFileSync(at('unit.machine.json'), readFileSync(machine, 'utf8').replace('"L/min"', '"furlong"'))
  writeFileSync(at('kind.json'), '[{ "startS": 1, "endS": 2, "kind": "dozing" }]')
  writeFileSync(at('far.json'), '[{ "startS": 5, "endS": 1e9, "kind": "stopped" }]')
  writeFileSync(at('zone.json'), '{ "timeZone": "Mars/Olympus" }')
})

afterAll(() => rmSync(folder, { recursive: true }))

describe('the command as a process', () => {
  it('reads standard input and prints the result', async () => {
    const result = resultOf(await start(['-', '--machine', machine], readFileSync(log)))
    expect(result.log).toMatchObject({ rowsRead: lines.length - 1, rowsRejected: 0 })
  })
  it('ends with 1 for a log that is none', async () => {
    const { code, out, err } = await start(['prose.csv', '--machine', machine])
    expect({ code, out }).toEqual({ code: 1, out: '' })
    expect(err).toMatch(/prose\.csv, line 3/)
  })
  it('ends with 2 for wrong usage', async () => {
    const { code, out, err } = await start([log])
    expect({ code, out }).toEqual({ code: 2, out: '' })
    expect(err).toContain('Usage: ')
  })
})

describe('the command', () => {
  it('gives the same result for a file, standard input, a packed file and two parts in any order', async () => {
    const whole = resultOf(await run([log, '--machine', machine]))
    expect(whole.ledgerKWh.electricIn.value).toBeGreaterThan(0)
    expect(resultOf(await run(['-', '--machine', machine], readFileSync(log)))).toEqual(whole)
    const packed = await run([at('packed.csv.gz'), '--machine', machine, '--out', at('result.json')])
    expect(packed).toEqual({ code: 0, out: '', err: '' })
    expect(resultSchema.parse(JSON.parse(readFileSync(at('result.json'), 'utf8')))).toEqual(whole)
    const parts = [at('first.csv'), at('second.csv')]
    for (const files of [parts, parts.toReversed()]) {
      const both = resultOf(await run([...files, '--machine', machine]))
      expect(both.ledgerKWh).toEqual(whole.ledgerKWh)
      expect(both.log).toMatchObject({ rowsRead: lines.length - 1, startedAt: whole.log.startedAt, gaps: [] })
    }
  })

  it('takes corrections of stretches, and marks them', async () => {
    const corrections = [{ startS: 100, endS: 160, kind: 'stopped' }]
    writeFileSync(at('said.json'), JSON.stringify(corrections))
    const plain = resultOf(await run([log, '--machine', machine]))
    const said = resultOf(await run([log, '--machine', machine, '--corrections', at('said.json')]))
    expect(plain.corrections).toEqual([])
    expect(said.corrections).toMatchObject([{ ...corrections[0], inForceS: expect.closeTo(60, 6) }])
    expect(said.phases.filter((phase) => phase.corrected)).toMatchObject([
      { kind: 'stopped', startS: 100, endS: 160 },
    ])
    expect(said.log.durationS).toBe(plain.log.durationS)
    writeFileSync(at('none.json'), '[]')
    expect(resultOf(await run([log, '--machine', machine, '--corrections', at('none.json')]))).toEqual(plain)
  })

  it('shows its usage when asked', async () => {
    expect(await run(['--help'])).toMatchObject({ code: 0, out: expect.stringContaining('Usage: '), err: '' })
  })

  it.each([
    ['a log that is not there', ['none.csv', '--machine', machine], /none\.csv/],
    ['a log that is none', ['prose.csv', '--machine', machine], /prose\.csv, line 3/],
    ['a folder', [samples, '--machine', machine], /folder/],
    ['a packed file cut short', ['cut.csv.gz', '--machine', machine], /cut\.csv\.gz/],
    ['a machine that is no JSON', [log, '--machine', 'broken.machine.json'], /broken\.machine\.json, line 2/],
    ['a unit that is none', [log, '--machine', 'unit.machine.json'], /channels\.1\.unit/],
    ['a zone that is none', [log, '--machine', machine, '--site', 'zone.json'], /zone\.json.*Mars/],
    [
      'corrections of no kind',
      [log, '--machine', machine, '--corrections', 'kind.json'],
      /kind\.json.*0\.kind/,
    ],
    [
      'a correction beyond the log',
      [log, '--machine', machine, '--corrections', 'far.json'],
      /Correction 1: .*found 5 s/,
    ],
    ['a result that cannot be written', [log, '--machine', machine, '--out', 'none/x.json'], /x\.json/],
  ])('ends with 1 for %s and says what and where', async (_, args, words) => {
    const { code, out, err } = await run(args.map((arg) => (inFolder.test(arg) ? at(arg) : arg)))
    expect({ code, out }).toEqual({ code: 1, out: '' })
    expect(err).toMatch(words)
    expect(err).not.toMatch(/^\s+at /m)
  })

  it.each([
    ['no log', ['--machine', machine]],
    ['no machine', [log]],
    ['an unknown option', [log, '--machine', machine, '--loud']],
    ['standard input twice', ['-', '-', '--machine', machine]],
  ])('ends with 2 for %s and shows the usage', async (_, args) => {
    const { code, out, err } = await run(args.map((arg) => (inFolder.test(arg) ? at(arg) : arg)))
    expect({ code, out }).toEqual({ code: 2, out: '' })
    expect(err).toContain('Usage: ')
  })
})
