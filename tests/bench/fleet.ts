import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { Readable } from 'node:stream'
import { getTableColumns, sql } from 'drizzle-orm'
import type { PgTable } from 'drizzle-orm/pg-core'
import { digestOf } from '@/app/_jobs/log-digest'
import { storable } from '@/app/_jobs/storable'
import { plantLogs, plantMachines } from '@/app/_plant/plant'
import { compareView } from '@/app/_server/views/compare-view'
import { monthView } from '@/app/_server/views/month-view'
import { type OpenDatabase, openDatabase } from '@/db/client'
import type { NewMonthTotals } from '@/db/queries/month-totals'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { logDigests } from '@/db/schema/log-digests'
import { logs } from '@/db/schema/logs'
import { machineMonths } from '@/db/schema/machine-months'
import { machines } from '@/db/schema/machines'
import { monthDigests } from '@/db/schema/month-digests'
import { monthTotals } from '@/db/schema/month-totals'
import { analyse } from '@/lib/analyse'
import { siteSchema } from '@/lib/contract/site'
import { readLog } from '@/lib/import/read-log'
import type { LogMonth } from '@/lib/months/log-month'
import { logMonths } from '@/lib/months/log-month'
import { monthDigests as digestMonths } from '@/lib/months/month-digest'
import { rollUp } from '@/lib/months/rollup'
import { summarise } from '@/lib/months/summary'
import { seededRandom } from '@/lib/numeric/random'
import { emptyServerDatabase } from '../db/databases'

// npm run bench:fleet [-- CALLS [MONTHS]]: server time of the month's review and of the comparison with 50 and with 500
// machines, on the embedded database and on a PostgreSQL server of its own. A log of the invented plant is analysed once;
// what the app's write paths keep of it for these pages is written for every machine, month and log, scaled by a seeded
// factor, through the same functions; the large fleet is the small one copied by the database. Samples, analyses and details of single logs, which neither page reads, are not.

const CALLS = Number(process.argv[2] ?? 40)
const MONTHS = Number(process.argv[3] ?? 36)
const FLEETS = [50, 500]
/** Further copies of the small fleet that make the large one. */
const COPIES = FLEETS[1] / FLEETS[0] - 1
const LOG_DAYS = ['04', '12', '21']
const FIRST_YEAR = 2023
const ROWS_AT_ONCE = 1000
const WANTED_MS = { server: 100, embedded: 400 }
const MONTHS_PER_YEAR = 12
const LEAST_FACTOR = 0.7
const FACTOR_SPAN = 0.6

const site = siteSchema.parse({})
const names = Array.from({ length: MONTHS }, (_, k) => {
  const month = String((k % MONTHS_PER_YEAR) + 1).padStart(2, '0')
  return `${FIRST_YEAR + Math.floor(k / MONTHS_PER_YEAR)}-${month}`
})

async function oneLog() {
  const [first] = plantLogs(() => true)
  const machine = plantMachines().find(({ id }) => id === first.machineId)?.machine
  if (!machine) throw new Error(`the plant has no machine ${first.machineId}`)
  const text = Readable.from([Buffer.from(first.csv)])
  const log = await readLog(text, { fileName: first.fileName, machine, timeZone: site.timeZone })
  const analysed = analyse(log, machine, site)
  return {
    machine,
    digest: storable(digestOf(analysed.analysis)),
    totals: rollUp(log, analysed, site),
    details: storable(logMonths(log, analysed, site)),
    report: log.report,
    durationS: log.trace.timeS.length * log.trace.sampleIntervalS,
  }
}
type Pattern = Awaited<ReturnType<typeof oneLog>>

/** A log's energies and cost times a factor; its hours and cycles as they are. */
function scaled(row: NewMonthTotals, month: string, factor: number): NewMonthTotals {
  const times = (value: number | null) => (value === null ? null : value * factor)
  return {
    ...row,
    month,
    electricJ: row.electricJ * factor,
    motorLossJ: row.motorLossJ * factor,
    pumpLossJ: row.pumpLossJ * factor,
    overReliefJ: row.overReliefJ * factor,
    unloadingJ: row.unloadingJ * factor,
    intoSystemJ: row.intoSystemJ * factor,
    meteringJ: times(row.meteringJ),
    workJ: times(row.workJ),
    unaccountedJ: row.unaccountedJ * factor,
    cost: row.cost * factor,
  }
}

/** The same day of a log on another date. */
function movedTo(detail: LogMonth, date: string, factor: number): LogMonth {
  const [first] = detail.spans
  const shiftMs = first ? Date.parse(`${date}T08:00:00Z`) - first.fromMs : 0
  return {
    ...detail,
    month: date.slice(0, 'YYYY-MM'.length),
    spans: detail.spans.map(({ fromMs, toMs }) => ({ fromMs: fromMs + shiftMs, toMs: toMs + shiftMs })),
    days: detail.days.map((day) => ({ ...day, date, kWh: day.kWh.map((one) => one && one * factor) })),
  }
}

function machineRows(pattern: Pattern, machineId: string, random: () => number) {
  const { digest, report, durationS } = pattern
  const months = names.map((month) => {
    const own = LOG_DAYS.map((day) => {
      const factor = LEAST_FACTOR + FACTOR_SPAN * random()
      const date = `${month}-${day}`
      const key = { machineId, logId: `${machineId}-${date}`, siteId: DEFAULT_SITE_ID }
      const startedAt = new Date(`${date}T08:00:00Z`)
      const totals = pattern.totals.map((row) => scaled(row, month, factor))
      const detail = pattern.details.map((one) => movedTo(one, date, factor))
      return { key, startedAt, totals, detail }
    })
    const rows = own.flatMap(({ totals }) => totals)
    const summary = storable(
      summarise(
        rows,
        own.flatMap(({ detail }) => detail),
      ),
    )
    return { month, own, summary }
  })
  const all = months.flatMap(({ own }) => own)
  return {
    logs: all.map(({ key, startedAt }) => ({
      machineId,
      id: key.logId,
      siteId: key.siteId,
      sha256: key.logId,
      fileName: `${key.logId}.csv`,
      byteLength: 1,
      state: 'done' as const,
      startedAt,
      durationS,
      rowsRead: report.rowsRead,
      rowsRejected: report.rowsRejected,
    })),
    totals: all.flatMap(({ key, totals }) => totals.map((row) => ({ ...key, ...row }))),
    digests: all.flatMap(({ key, totals }) => digestMonths(totals).map((row) => ({ ...key, ...row }))),
    logDigests: all.map(({ key, startedAt }) => ({ ...key, startedAt, receivedAt: startedAt, ...digest })),
    machineMonths: months.map(({ month, summary }) => ({
      machineId,
      siteId: DEFAULT_SITE_ID,
      month,
      summary,
    })),
  }
}

const IDS = new Set(['id', 'machine_id', 'log_id', 'sha256', 'name'])

/** Copies every row under further ids: a database does it ten times as fast as it takes rows in. */
async function copy({ db }: OpenDatabase): Promise<void> {
  for (const table of [machines, logs, monthTotals, monthDigests, logDigests, machineMonths]) {
    const columns = Object.values(getTableColumns(table)).map(({ name }) => name)
    const chosen = columns.map((name) =>
      IDS.has(name) ? sql`${sql.identifier(name)} || '-' || c` : sql.identifier(name),
    )
    const listed = columns.map((name) => sql.identifier(name))
    await db.execute(
      sql`insert into ${table} (${sql.join(listed, sql`, `)}) select ${sql.join(chosen, sql`, `)} from ${table}, generate_series(1, ${sql.raw(String(COPIES))}) c`,
    )
  }
}

async function fill({ db }: OpenDatabase, pattern: Pattern): Promise<void> {
  const insert = async <T extends PgTable>(table: T, rows: T['$inferInsert'][]) => {
    for (let k = 0; k < rows.length; k += ROWS_AT_ONCE)
      await db.insert(table).values(rows.slice(k, k + ROWS_AT_ONCE))
  }
  for (let n = 0; n < FLEETS[0]; n++) {
    const id = `machine-${n}`
    const name = `Machine ${n}`
    const config = { ...pattern.machine, name }
    const row = { id, siteId: DEFAULT_SITE_ID, name, line: `Line ${n % 10}`, trade: null, config }
    const rows = machineRows(pattern, id, seededRandom(n + 1))
    await db.insert(machines).values(row)
    await insert(logs, rows.logs)
    await insert(monthTotals, rows.totals)
    await insert(monthDigests, rows.digests)
    await insert(logDigests, rows.logDigests)
    await insert(machineMonths, rows.machineMonths)
  }
}

const quantile = (sorted: readonly number[], share: number) =>
  sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)]

/** Server time of a page's data, ms: the view and the JSON that is sent. */
async function timed(call: () => Promise<unknown>) {
  await call()
  const ms: number[] = []
  for (let k = 0; k < CALLS; k++) {
    const began = performance.now()
    JSON.stringify(await call())
    ms.push(performance.now() - began)
  }
  ms.sort((a, b) => a - b)
  return { p50: quantile(ms, 0.5), p95: quantile(ms, 0.95) }
}

interface Measured {
  readonly machines: number
  readonly view: string
  readonly p50: number
  readonly p95: number
}

async function measure(opened: OpenDatabase, pattern: Pattern): Promise<void> {
  const { db, kind } = opened
  const found: Measured[] = []
  for (const count of FLEETS) {
    const began = performance.now()
    await (count === FLEETS[0] ? fill(opened, pattern) : copy(opened))
    await db.execute('analyze')
    console.log(
      `${kind}: ${count} machines, ${await db.$count(logs)} logs, ${await db.$count(monthTotals)} rows of months; ` +
        `filled in ${((performance.now() - began) / 1000).toFixed(0)} s`,
    )
    const random = seededRandom(7)
    const month = async () => {
      const view = await monthView(db, names[Math.floor(random() * names.length)])
      const shown = view.machines.reduce((sum, one) => sum + one.logs.length, 0)
      if (shown !== count * LOG_DAYS.length) throw new Error(`${shown} logs of ${count} machines in a month`)
      return view
    }
    const compare = async () => {
      const view = await compareView(db)
      if (view.rows.some((row) => row.wasteShare === null)) throw new Error('a machine without its figures')
      return view
    }
    for (const [view, call] of [
      ['month', month],
      ['compare', compare],
    ] as const) {
      const ms = await timed(call)
      found.push({ machines: count, view, ...ms })
      console.log(
        `${kind}, ${count} machines, ${view}: p50 ${ms.p50.toFixed(1)}, p95 ${ms.p95.toFixed(1)} ms`,
      )
    }
  }
  for (const view of ['month', 'compare']) {
    const [small, large] = found.filter((one) => one.view === view)
    for (const which of ['p50', 'p95'] as const) {
      const [few, many] = [small[which], large[which]]
      const wanted =
        which === 'p95'
          ? `, wanted under ${WANTED_MS[kind]}: ${many < WANTED_MS[kind] ? 'met' : 'missed'}`
          : ''
      console.log(
        `${kind} ${view} ${which}: ${FLEETS[0]} machines ${few.toFixed(1)} ms, ` +
          `${FLEETS[1]} machines ${many.toFixed(1)} ms, ratio ${(many / few).toFixed(1)}${wanted}`,
      )
    }
  }
}

const pattern = await oneLog()
const folder = mkdtempSync(join(tmpdir(), 'tankward-fleet-'))
try {
  const server = await emptyServerDatabase()
  const opened = await openDatabase({ url: server.url, folder: null })
  await measure(opened, pattern)
  await opened.close()
  await server.drop()
  const embedded = await openDatabase({ folder: join(folder, 'data') })
  await measure(embedded, pattern)
  await embedded.close()
} finally {
  rmSync(folder, { recursive: true, force: true })
}
