import { Readable } from 'node:stream'
import { getTableColumns, sql } from 'drizzle-orm'
import type { PgTable } from 'drizzle-orm/pg-core'
import { digestOf } from '@/app/_jobs/log-digest'
import { packedMonth } from '@/app/_jobs/machine-months'
import { storable } from '@/app/_jobs/storable'
import { plantLogs, plantMachines } from '@/app/_plant/plant'
import type { Database } from '@/db/client'
import type { NewMonthTotals } from '@/db/queries/month-totals'
import { DEFAULT_SITE_ID, saveSite } from '@/db/queries/sites'
import { logDigests } from '@/db/schema/log-digests'
import { logs } from '@/db/schema/logs'
import { machineMonths } from '@/db/schema/machine-months'
import { machines } from '@/db/schema/machines'
import { measureEvents } from '@/db/schema/measure-events'
import { measures } from '@/db/schema/measures'
import { monthBaselines } from '@/db/schema/month-baselines'
import { monthDigests } from '@/db/schema/month-digests'
import { monthTotals } from '@/db/schema/month-totals'
import { analyse } from '@/lib/analyse'
import { proofSetupSchema } from '@/lib/contract/proof'
import { siteSchema } from '@/lib/contract/site'
import { readLog } from '@/lib/import/read-log'
import { type LogMonth, logMonths } from '@/lib/months/log-month'
import { monthDigests as digestMonths, type MonthDigest } from '@/lib/months/month-digest'
import { rollUp } from '@/lib/months/rollup'
import { summarise } from '@/lib/months/summary'
import { seededRandom } from '@/lib/numeric/random'

// The rows of a generated fleet: what the app's write paths keep of logs for the pages of months.

export const LOG_DAYS = ['04', '12', '21']
/** Machines whose rows are made here; the database copies them. */
const MADE = 10
/** Of the machines made, those with a measure. */
const MEASURED = 2
const FIRST_YEAR = 2023
const MONTHS_PER_YEAR = 12
const BASELINE_MONTHS = 3
const LEAST_FACTOR = 0.7
const FACTOR_SPAN = 0.6

const WORKDAYS = [1, 2, 3, 4, 5]
const site = siteSchema.parse({
  timeZone: 'Europe/Vienna',
  tariffs: [
    {
      from: `${FIRST_YEAR}-01-01`,
      energyPricePerKWh: 0.18,
      bands: [{ name: 'day', weekdays: WORKDAYS, fromHour: 6, toHour: 20, pricePerKWh: 0.22 }],
      demand: { pricePerKWMonth: 9 },
    },
  ],
  calendars: [
    {
      name: 'two shifts',
      days: [
        {
          weekdays: WORKDAYS,
          shifts: [
            { name: 'early', fromHour: 6, toHour: 14 },
            { name: 'late', fromHour: 14, toHour: 22 },
          ],
        },
      ],
    },
  ],
})

export const monthNames = (count: number) =>
  Array.from({ length: count }, (_, k) => {
    const month = String((k % MONTHS_PER_YEAR) + 1).padStart(2, '0')
    return `${FIRST_YEAR + Math.floor(k / MONTHS_PER_YEAR)}-${month}`
  })

/** What is kept of a log of the invented plant, before it is moved to other months. */
export async function analysedLog() {
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
export type AnalysedLog = Awaited<ReturnType<typeof analysedLog>>

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

/** What logs of a month add up to, as the database adds it. */
function summed(digests: readonly MonthDigest[]): Omit<MonthDigest, 'month'> {
  const sum = (name: keyof Omit<MonthDigest, 'month'>) =>
    digests.reduce((total, digest) => total + digest[name], 0)
  return {
    runningS: sum('runningS'),
    electricJ: sum('electricJ'),
    idleJ: sum('idleJ'),
    wasteJ: sum('wasteJ'),
    cost: sum('cost'),
    cycles: sum('cycles'),
  }
}

/** As the write paths keep it with months. */
const isSound = ({ digest }: AnalysedLog) => digest.problems.length === 0 && digest.modelTrusted

function machineRows(of: AnalysedLog, machineId: string, names: readonly string[], random: () => number) {
  const { digest, report, durationS } = of
  const months = names.map((month) => {
    const own = LOG_DAYS.map((day) => {
      const factor = LEAST_FACTOR + FACTOR_SPAN * random()
      const date = `${month}-${day}`
      const key = { machineId, logId: `${machineId}-${date}`, siteId: DEFAULT_SITE_ID }
      const startedAt = new Date(`${date}T08:00:00Z`)
      const totals = of.totals.map((row) => scaled(row, month, factor))
      const detail = of.details.map((one) => movedTo(one, date, factor))
      return { key, startedAt, totals, detail }
    })
    const rows = own.flatMap(({ totals }) => totals)
    const details = own.flatMap(({ detail }) => detail)
    const digests = own.flatMap(({ totals }) => digestMonths(totals))
    return { month, own, summary: storable(summarise(rows, details)), digest: summed(digests) }
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
    digests: all.flatMap(({ key, totals }) =>
      digestMonths(totals).map((row) => ({ ...key, ...row, isSound: isSound(of) })),
    ),
    logDigests: all.map(({ key, startedAt }) => ({ ...key, startedAt, receivedAt: startedAt, ...digest })),
    machineMonths: months.map(({ month, summary, digest }) => ({
      machineId,
      siteId: DEFAULT_SITE_ID,
      month,
      summary,
      ...packedMonth(summary),
      ...digest,
    })),
  }
}

/** Rows in one statement with one parameter: thousands of parameters cost more than the rows. */
async function insert<T extends PgTable>(db: Database, table: T, rows: T['$inferInsert'][]): Promise<void> {
  const columns = Object.entries(getTableColumns(table)).filter(([key]) => rows.some((row) => key in row))
  const asJson = (value: unknown) =>
    value instanceof Uint8Array ? `\\x${Buffer.from(value).toString('hex')}` : value
  const named = rows.map((row) =>
    Object.fromEntries(
      columns.map(([key, { name }]) => [name, asJson((row as Record<string, unknown>)[key])]),
    ),
  )
  const list = sql.join(
    columns.map(([, { name }]) => sql.identifier(name)),
    sql`, `,
  )
  await db.execute(
    sql`insert into ${table} (${list}) select ${list} from jsonb_populate_recordset(null::${table}, ${JSON.stringify(named)}::text::jsonb)`,
  )
}

/** Makes the site and the first machines with their months. */
async function make(db: Database, of: AnalysedLog, names: readonly string[]): Promise<void> {
  await saveSite(db, site)
  const at = new Date(`${FIRST_YEAR}-06-01T00:00:00Z`)
  for (let n = 0; n < MADE; n++) {
    const id = `machine-${n}`
    const name = `Machine ${n}`
    const config = { ...of.machine, name }
    const key = { machineId: id, siteId: DEFAULT_SITE_ID }
    const rows = machineRows(of, id, names, seededRandom(n + 1))
    await insert(db, machines, [
      { id, siteId: DEFAULT_SITE_ID, name, line: `Line ${n}`, trade: null, config },
    ])
    await insert(db, logs, rows.logs)
    await insert(db, monthTotals, rows.totals)
    await insert(db, monthDigests, rows.digests)
    await insert(db, logDigests, rows.logDigests)
    await insert(db, machineMonths, rows.machineMonths)
    const [fromMonth] = names
    const untilMonth = names[Math.min(names.length, BASELINE_MONTHS) - 1]
    await insert(db, monthBaselines, [{ ...key, number: 1, fromMonth, untilMonth, author: 'bench', at }])
    if (n >= MEASURED) continue
    const setup = proofSetupSchema.parse({})
    await insert(db, measures, [
      {
        ...key,
        id: `measure-${n}`,
        optionId: of.digest.best?.id,
        state: 'approved',
        machineThen: config,
        setup,
      },
    ])
    await insert(db, measureEvents, [
      { ...key, measureId: `measure-${n}`, seq: 1, state: 'approved', on: `${FIRST_YEAR}-06-01` },
    ])
  }
}

const IDS = new Set(['id', 'machine_id', 'log_id', 'measure_id', 'sha256', 'name'])
const TABLES = [
  machines,
  logs,
  monthTotals,
  monthDigests,
  logDigests,
  machineMonths,
  monthBaselines,
  measures,
  measureEvents,
]

/** Copies every row of every machine under further ids. */
async function copy(db: Database, copies: number): Promise<void> {
  const mark = sql`'-' || ${sql.raw(String(copies))} || '-' || c`
  await db.transaction(async (tx) => {
    // What rows hang on is copied with them: asking for it row by row takes longer than the copying.
    await tx.execute(sql`set local session_replication_role = 'replica'`)
    for (const table of TABLES) {
      const written = Object.values(getTableColumns(table)).filter(({ generated }) => !generated)
      const columns = written.map(({ name }) => sql.identifier(name))
      const chosen = written.map(({ name }) =>
        IDS.has(name) ? sql`${sql.identifier(name)} || ${mark}` : sql.identifier(name),
      )
      await tx.execute(
        sql`insert into ${table} (${sql.join(columns, sql`, `)}) select ${sql.join(chosen, sql`, `)} from ${table}, generate_series(1, ${sql.raw(String(copies - 1))}) c`,
      )
    }
  })
}

/** Makes the fleet as many machines large; it grows from what is there. */
export async function growFleet(
  db: Database,
  count: number,
  of: AnalysedLog,
  names: readonly string[],
): Promise<void> {
  if ((await db.$count(machines)) === 0) await make(db, of, names)
  const times = count / (await db.$count(machines))
  if (!Number.isInteger(times)) throw new Error(`a fleet of ${count} is no multiple of what is there`)
  if (times > 1) await copy(db, times)
  await db.execute(sql`vacuum analyze`)
}
