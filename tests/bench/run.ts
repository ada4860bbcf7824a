import { execFile } from 'node:child_process'
import { createReadStream, mkdtempSync, rmSync, statSync } from 'node:fs'
import { loadavg, tmpdir } from 'node:os'
import { join } from 'node:path'
import { promisify } from 'node:util'
import { DuckDBInstance } from '@duckdb/node-api'
import Papa from 'papaparse'
import { filePieces } from '@/app/_jobs/file-pieces'
import { packAccount, packTrace } from '@/app/_jobs/pack-log'
import { analyse } from '@/lib/analyse'
import { siteSchema } from '@/lib/contract/site'
import { readLog } from '@/lib/import/read-log'
import { accountFor } from '@/lib/ledger/ledger'
import { rollUp } from '@/lib/months/rollup'
import { replayMoved } from '@/lib/options/moved'
import { rankReplayed } from '@/lib/options/rank'
import { findCycles } from '@/lib/phases/cycles'
import { sampleMachine } from '../app/sample-files'
import type { ImportFigures } from './import'
import { NAME, writeLong } from './long-log'

// npm run bench [-- ROWS [HZ]]: how long an import takes, in a process of its own with its thread for reading and
// analysing, on the embedded database or, with DATABASE_URL, on a server; and where the time goes, stage by stage in
// one thread. 2,880,000 rows are a shift at 100 Hz, or 25 shifts at 4 Hz with as many times the strokes. Beyond
// MOST_STAGED_ROWS the whole import alone. Figures of one run compare with each other only: read the ratios.
// An import is measured in new threads and in threads that have imported a short file before, as a server's have that is
// not just started: it keeps them between jobs. The reference is held against the latter, for papaparse is at its second pass
// of the file by then, in code that is as warm.

const ROWS = Number(process.argv[2] ?? 400_000)
const HZ = Number(process.argv[3] ?? 100)
const MOST_STAGED_ROWS = 6_000_000
const WARM_ROWS = 100_000
const KB_PER_MB = 1000
const US_PER_S = 1e6

const folder = mkdtempSync(join(tmpdir(), 'tankward-bench-'))
const stages: { stage: string; s: number; cpuS: number; peakMB: number }[] = []
async function timed<T>(stage: string, work: () => T | Promise<T>): Promise<T> {
  const started = performance.now()
  const before = process.cpuUsage()
  const result = await work()
  const { user, system } = process.cpuUsage(before)
  stages.push({
    stage,
    s: (performance.now() - started) / 1000,
    cpuS: (user + system) / US_PER_S,
    peakMB: process.resourceUsage().maxRSS / KB_PER_MB,
  })
  return result
}

/** The reference every stage is held against: a well-known reader that only splits cells. */
async function splitAll(path: string): Promise<void> {
  await new Promise<void>((resolve, reject) => {
    Papa.parse(createReadStream(path, { encoding: 'utf8', highWaterMark: 1 << 20 }), {
      chunk: () => {},
      complete: () => resolve(),
      error: reject,
    })
  })
}

/** The same, and every cell through `Number`: what hand-written imports do. Stamps give NaN, to read them would take longer. */
async function numberAll(path: string): Promise<void> {
  const columns: Float64Array[] = []
  let used = 0
  await new Promise<void>((resolve, reject) => {
    Papa.parse<string[]>(createReadStream(path, { encoding: 'utf8', highWaterMark: 1 << 20 }), {
      chunk: ({ data }) => {
        for (const row of data) {
          for (let i = 0; i < row.length; i++) {
            columns[i] ??= new Float64Array(ROWS + 2)
            columns[i][used] = Number(row[i])
          }
          used++
        }
      },
      complete: () => resolve(),
      error: reject,
    })
  })
}

/** A database's reader of such files, on one thread: all columns typed, stamps too, and kept. */
async function duckAll(path: string): Promise<void> {
  const instance = await DuckDBInstance.create(':memory:', { threads: '1' })
  const connection = await instance.connect()
  await connection.run(`create table log as select * from read_csv('${path}')`)
  const reader = await connection.runAndReadAll('select count(*) from log')
  if (Number(reader.getRows()[0][0]) !== ROWS) throw new Error('not every row was read')
  connection.closeSync()
  instance.closeSync()
}

/**
 * The whole import in a process of its own, so that its peak of memory is its own too.
 * @param warmPath what its threads import before
 */
async function importAlone(path: string, ...warmPath: string[]): Promise<ImportFigures> {
  const script = join(import.meta.dirname, 'import.ts')
  const args = ['--import', 'tsx', script, path, ...warmPath]
  const { stdout } = await promisify(execFile)(process.execPath, args)
  return JSON.parse(stdout) as ImportFigures
}

const rounded = (value: number) => Number(value.toFixed(2))

/** How many tasks want a processor: where they are more than processors, clocks tell of others, too. */
const sayLoad = () => console.log(`load average over a minute: ${rounded(loadavg()[0])}`)

try {
  sayLoad()
  const path = join(folder, 'long.csv')
  await writeLong(path, ROWS, HZ)
  const size = statSync(path).size
  if (ROWS <= MOST_STAGED_ROWS) {
    const machine = sampleMachine(NAME)
    const site = siteSchema.parse({})
    const log = await timed('read', () =>
      readLog(createReadStream(path, { highWaterMark: 1 << 20 }), {
        fileName: 'long.csv',
        machine,
        timeZone: site.timeZone,
      }),
    )
    const ledger = await timed('phases, account, fit and intervals', () => accountFor(log.trace, machine))
    const basis = { site, runningHours: 1, pricePerKWh: 0.2, cycles: findCycles(ledger.segmentation.phases) }
    await timed('fourteen options with search, sets and money', () => rankReplayed(ledger, basis))
    await timed('a moved setting planned and replayed', () =>
      replayMoved(ledger, site, basis.cycles, 'vent-relief-at-idle', { ventBar: 20 }),
    )
    const analysed = await timed('the same, options and figures', () => analyse(log, machine, site))
    await timed('roll up', () => rollUp(log, analysed, site))
    let bytes = 0
    const weigh = async (rows: { samples: { bytes: Uint8Array }[]; envelope: { bytes: Uint8Array }[] }) => {
      for (const row of [...rows.samples, ...rows.envelope]) bytes += row.bytes.length
    }
    await timed('pack samples', () => packTrace(log.trace, weigh))
    const ofSamples = bytes
    await timed('pack account', () => packAccount(analysed.account, log.trace.timeS, weigh))
    let packed = 0
    await timed('pack original', async () => {
      for await (const piece of filePieces({ path, isPacked: false, packing: 'brotli' }))
        packed += piece.bytes.length
    })
    await timed('reference: papaparse splits the same file into strings', () => splitAll(path))
    await timed('reference: papaparse and Number on every cell', () => numberAll(path))
    await timed('reference: DuckDB reads all columns typed on one thread', () => duckAll(path))
    console.log(`samples ${ofSamples}, account ${bytes - ofSamples}, original ${packed} bytes packed`)
  }
  const stageOf = (name: string) => stages.find(({ stage }) => stage.startsWith(name))
  const secondsOf = (name: string) => stageOf(name)?.s ?? Number.NaN
  const split = secondsOf('reference: papaparse splits')
  console.table(
    stages.map(({ stage, s, cpuS, peakMB }) => ({
      stage,
      s: rounded(s),
      'of processors, s': rounded(cpuS),
      'over papaparse': rounded(s / split),
      'peak so far, MB': Math.round(peakMB),
    })),
  )
  const numbers = secondsOf('reference: papaparse and Number')
  const numbersCpu = stageOf('reference: papaparse and')?.cpuS ?? Number.NaN
  const tell = (threads: string, alone: ImportFigures) => {
    console.log(
      `threads ${threads}: ${ROWS} rows, file ${size} bytes, ${alone.database} database: whole import stored after ${rounded(alone.storedS)} s ` +
        `by the clock, with options after ${rounded(alone.s)} s, ${Math.round(ROWS / alone.s)} rows/s, ` +
        `${rounded(alone.cpuS)} s of processors, ${rounded(alone.cpuStoredS)} until stored, peak ${Math.round(alone.peakKB / KB_PER_MB)} MB`,
    )
    if (ROWS > MOST_STAGED_ROWS) return
    console.log(
      `threads ${threads}, of papaparse and Number: stored ${rounded(alone.storedS / numbers)}, with options ${rounded(alone.s / numbers)}; ` +
        `of its seconds of processors, which are of one: stored ${rounded(alone.cpuStoredS / numbersCpu)}`,
    )
  }
  tell('new', await importAlone(path))
  if (ROWS <= MOST_STAGED_ROWS) {
    const warmPath = join(folder, 'short.csv')
    await writeLong(warmPath, WARM_ROWS, HZ)
    tell('warm', await importAlone(path, warmPath))
    console.log(
      `read: ${rounded(secondsOf('read') / secondsOf('reference: DuckDB'))} of DuckDB on one thread`,
    )
  }
  sayLoad()
} finally {
  rmSync(folder, { recursive: true, force: true })
}
