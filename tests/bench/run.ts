import { once } from 'node:events'
import { createReadStream, createWriteStream, mkdtempSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { DuckDBInstance } from '@duckdb/node-api'
import Papa from 'papaparse'
import { filePieces, packFile } from '@/app/_jobs/file-pieces'
import { inputsOf } from '@/app/_jobs/inputs'
import { packAccount, packTrace } from '@/app/_jobs/pack-log'
import { spanOf } from '@/app/_jobs/span'
import { storeImported } from '@/app/_jobs/store-log'
import { fleet } from '@/app/_plant/fleet'
import { writeCsv } from '@/app/_plant/habits'
import { simulate } from '@/app/_plant/simulate'
import { findWindow } from '@/app/_server/find-window'
import { readEnvelope } from '@/app/_server/read-envelope'
import { openDatabase } from '@/db/client'
import { analyse } from '@/lib/analyse'
import { siteSchema } from '@/lib/contract/site'
import { readLog } from '@/lib/import/read-log'
import { accountFor } from '@/lib/ledger/ledger'
import { rollUp } from '@/lib/months/rollup'
import { seededRandom } from '@/lib/numeric/random'
import { replayMoved } from '@/lib/options/moved'
import { rankReplayed } from '@/lib/options/rank'
import { findCycles } from '@/lib/phases/cycles'
import { planWindow } from '@/lib/samples/envelope-plan'
import { sampleMachine } from '../app/sample-files'
import { newLog, newMachine } from '../db/fixtures'

// npm run bench [-- ROWS [HZ]]: where the time of an import goes, stage by stage, on the embedded database or, with
// DATABASE_URL, on a server. 2,880,000 rows are a shift at 100 Hz, or 25 shifts at 4 Hz with as many times the
// strokes. Figures of one run compare with each other only: read the ratios.

const NAME = 'shear-pump-flow'
const MACHINE = 'shear-1'
const ROUND_S = 1200
const ROWS = Number(process.argv[2] ?? 400_000)
const HZ = Number(process.argv[3] ?? 100)
const MS_PER_S = 1000
const BATCH = 20_000

/** No two rounds of a machine are alike: its readings lie this far higher or lower, with noise of their own. */
const ROUND_SHARE = 0.03
const NOISE_SHARE = 0.002

/** A round of the invented shear as the sample log has it, logged at another rate. */
function oneRound(): string {
  const spec = fleet().find(({ id }) => id === MACHINE)?.spec
  if (!spec) throw new Error(MACHINE)
  const visit = { seed: 12, durationS: ROUND_S, rateHz: HZ, fineHz: Math.max(100, HZ) }
  return writeCsv(simulate(spec, visit).recording, 'comma-iso', '2026-09-16T09:00:00')
}

/** A long recording: round after round, never the same, with stamps that go on. */
async function writeLong(path: string): Promise<void> {
  const [header, ...lines] = oneRound().trimEnd().split('\n')
  const random = seededRandom(1)
  const readings = lines.map((line) => line.split(',').slice(1).map(Number))
  let round: number[] = []
  const cellsOf = (row: number) => {
    const at = row % readings.length
    if (at === 0) round = readings[0].map(() => 1 + ROUND_SHARE * (2 * random() - 1))
    const cells = readings[at].map((reading, column) =>
      (reading * (round[column] + NOISE_SHARE * (2 * random() - 1))).toFixed(2),
    )
    return `,${cells.join(',')}`
  }
  const startMs = Date.UTC(2026, 2, 1)
  const out = createWriteStream(path)
  out.write(`${header}\n`)
  for (let from = 0; from < ROWS; from += BATCH) {
    const count = Math.min(BATCH, ROWS - from)
    const rows = Array.from({ length: count }, (_, i) => {
      const stamp = new Date(startMs + ((from + i) * MS_PER_S) / HZ).toISOString().slice(0, -1)
      return `${stamp}${cellsOf(from + i)}\n`
    })
    if (!out.write(rows.join(''))) await once(out, 'drain')
  }
  out.end()
  await once(out, 'finish')
}

const folder = mkdtempSync(join(tmpdir(), 'tankward-bench-'))
const stages: { stage: string; s: number; peakMB: number }[] = []
const KB_PER_MB = 1000
async function timed<T>(stage: string, work: () => T | Promise<T>): Promise<T> {
  const started = performance.now()
  const result = await work()
  stages.push({
    stage,
    s: (performance.now() - started) / 1000,
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

const opened = await openDatabase({ url: process.env.DATABASE_URL, folder: join(folder, 'data') })
try {
  const path = join(folder, 'long.csv')
  await writeLong(path)
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
    replayMoved(ledger, site, basis.cycles, 'smaller-pump', { pumpCm3: 28 }),
  )
  const analysed = await timed('the same, options and figures', () => analyse(log, machine, site))
  const months = await timed('roll up', () => rollUp(log, analysed, site))
  const packed = await timed('pack samples', () => packTrace(log.trace))
  const series = await timed('pack account', () => packAccount(analysed.account, log.trace.timeS))
  const original = await timed('pack original', () => packFile({ path, isPacked: false, packing: 'gzip' }))
  const key = await newLog(opened.db, await newMachine(opened.db, machine))
  const { analysis, grounds, evidence } = analysed
  const computed = { analysis, grounds, evidence, months, ...series }
  const imported = { span: spanOf(log.trace), report: log.report, computed, ...packed }
  await timed('store', () =>
    storeImported(opened.db, key, imported, inputsOf(machine, site, []), filePieces(original)),
  )
  await original.remove()
  for (const share of [1, 0.1, 0.001]) {
    const toS = log.trace.timeS[log.trace.timeS.length - 1] * share
    await timed(`window of ${share * 100} %, 4,000 points, one channel`, async () => {
      const { fromSample, endSample } = await findWindow(opened.db, key, 0, toS)
      const plan = planWindow(log.trace.timeS.length, fromSample, endSample, 4000)
      await readEnvelope(opened.db, key, packed.channels[0].name, plan)
    })
  }
  const bytes = [...packed.samples, ...packed.envelope, ...series.samples, ...series.envelope].reduce(
    (sum, chunk) => sum + chunk.bytes.length,
    0,
  )
  // Last, so that what it leaves behind counts in no stage's peak.
  await timed('reference: papaparse splits the same file into strings', () => splitAll(path))
  const reference = stages[stages.length - 1]
  await timed('reference: papaparse and Number on every cell', () => numberAll(path))
  await timed('reference: DuckDB reads all columns typed on one thread', () => duckAll(path))
  const secondsOf = (...names: readonly string[]) =>
    stages.reduce((sum, { stage, s }) => sum + (names.some((name) => stage.startsWith(name)) ? s : 0), 0)
  console.table(
    stages.map(({ stage, s, peakMB }) => ({
      stage,
      s: Number(s.toFixed(3)),
      'over reference': Number((s / reference.s).toFixed(2)),
      'peak so far, MB': Math.round(peakMB),
    })),
  )
  const whole = secondsOf('read', 'phases, account', 'pack ', 'store')
  const numbers = secondsOf('reference: papaparse and Number')
  console.log(
    `read, phases, account, packing and storing: ${whole.toFixed(2)} s, ${(whole / numbers).toFixed(2)} of papaparse and Number`,
  )
  console.log(
    `read: ${(secondsOf('read') / secondsOf('reference: DuckDB')).toFixed(2)} of DuckDB on one thread`,
  )
  console.log(
    `${ROWS} rows, file ${statSync(path).size} bytes, chunks ${bytes} bytes, ${opened.kind} database`,
  )
  console.log(`peak memory ${process.resourceUsage().maxRSS} kB (the operating system's figure)`)
} finally {
  await opened.close()
  rmSync(folder, { recursive: true, force: true })
}
