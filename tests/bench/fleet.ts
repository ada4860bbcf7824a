import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { loadavg, tmpdir } from 'node:os'
import { join } from 'node:path'
import { sql } from 'drizzle-orm'
import { monthAnswer } from '@/app/_server/month-answer'
import { monthLogs } from '@/app/_server/month-logs-answer'
import { compareView } from '@/app/_server/views/compare-view'
import { monthPage } from '@/app/_server/views/month-page'
import { type OpenDatabase, openDatabase } from '@/db/client'
import { logs } from '@/db/schema/logs'
import { machineMonths } from '@/db/schema/machine-months'
import { monthTotals } from '@/db/schema/month-totals'
import { seededRandom } from '@/lib/numeric/random'
import { emptyServerDatabase } from '../db/databases'
import { type AnalysedLog, analysedLog, growFleet, LOG_DAYS, monthNames } from './fleet-rows'

// npm run bench:fleet [-- CALLS [MONTHS]]: server time of the month's review and of the comparison with 50 and with 500
// machines, on a PostgreSQL server of its own and on the embedded database. A log of the invented plant is analysed once;
// what the app's write paths keep of it for these pages is made by the same functions for the months of some machines,
// scaled by a seeded factor log by log, and the database copies those machines under further names. However many phases
// a month has, what is kept of it is as long. The site has dated prices, shifts and baselines, some machines measures.
// Samples, analyses and details of single logs, which neither page reads, are not written. Beside the clock stands
// processor time, which other programs on the machine move less.

const CALLS = Number(process.argv[2] ?? 40)
const MONTHS = Number(process.argv[3] ?? 36)
const FLEETS = [50, 500]
/** Calls before those that count: a server that has just been started is slower. */
const WARM_UPS = 8
const WANTED_MS = { server: 100, embedded: 400 }
const US_PER_MS = 1000
const MS_PER_TICK = 10
/** Columns of /proc/PID/stat behind the program's name: what it took in user and system mode. */
const STAT_TIMES = [11, 12]

for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => process.exit(1))

const names = monthNames(MONTHS)

const quantile = (values: readonly number[], share: number) => {
  const sorted = [...values].sort((a, b) => a - b)
  return sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)]
}

/** Processor time that the server's backends took so far, ms; nil for the embedded database, whose time is our own. */
async function backendMs({ db, kind }: OpenDatabase): Promise<number> {
  if (kind === 'embedded') return 0
  const rows = await db.execute(sql`select pid from pg_stat_activity where backend_type = 'client backend'`)
  const ofPid = (pid: unknown) => {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8')
    const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ')
    return STAT_TIMES.reduce((sum, at) => sum + Number(fields[at]), 0) * MS_PER_TICK
  }
  return [...(rows as unknown as { pid: number }[])].reduce((sum, { pid }) => sum + ofPid(pid), 0)
}

interface Timed {
  readonly p50: number
  readonly p95: number
  /** Processor time of this process, 95th percentile, and the server's mean, ms a call. */
  readonly ownP95: number
  readonly backend: number
  readonly kB: number
}

/** Server time of a page's data: the view and the JSON that is sent. */
async function timed(opened: OpenDatabase, call: () => Promise<unknown>): Promise<Timed> {
  for (let k = 0; k < WARM_UPS; k++) await call()
  const [clock, own]: number[][] = [[], []]
  let bytes = 0
  const before = await backendMs(opened)
  for (let k = 0; k < CALLS; k++) {
    const began = performance.now()
    const used = process.cpuUsage()
    bytes += JSON.stringify(await call()).length
    const { user, system } = process.cpuUsage(used)
    clock.push(performance.now() - began)
    own.push((user + system) / US_PER_MS)
  }
  return {
    p50: quantile(clock, 0.5),
    p95: quantile(clock, 0.95),
    ownP95: quantile(own, 0.95),
    backend: ((await backendMs(opened)) - before) / CALLS,
    kB: bytes / CALLS / 1000,
  }
}

interface Measured extends Timed {
  readonly view: string
}

async function measure(opened: OpenDatabase, pattern: AnalysedLog): Promise<void> {
  const { db, kind } = opened
  const found: Measured[] = []
  for (const count of FLEETS) {
    const began = performance.now()
    await growFleet(db, count, pattern, names)
    console.log(
      `${kind}: ${count} machines, ${await db.$count(logs)} logs, ${await db.$count(machineMonths)} months of machines, ` +
        `${await db.$count(monthTotals)} rows of months; filled in ${((performance.now() - began) / 1000).toFixed(0)} s`,
    )
    const random = seededRandom(7)
    const anyMonth = () => names[Math.floor(random() * names.length)]
    const isWhole = (machines: number, logs: number) => {
      if (machines !== count || logs !== count * LOG_DAYS.length)
        throw new Error(`${logs} logs of ${machines} machines in a month`)
    }
    const month = async () => {
      const view = await monthPage(db, anyMonth())
      isWhole(view.columns.ids.length, view.quality.logs)
      return view
    }
    // What the page asks for where logs are opened, and what scripts ask for: told beside it.
    const logsOfMonth = async () => {
      const answer = await monthLogs(db, anyMonth())
      isWhole(
        answer.machines.length,
        answer.machines.reduce((sum, one) => sum + one.logs.length, 0),
      )
      return answer
    }
    const api = async () => {
      const answer = await monthAnswer(db, anyMonth())
      isWhole(answer.machines.filter(({ review }) => review).length, count * LOG_DAYS.length)
      return answer
    }
    const compare = async () => {
      const view = await compareView(db)
      if (view.rows.length !== count || view.rows.some((row) => row.wasteShare === null))
        throw new Error('a machine without its figures')
      return view
    }
    for (const [view, call] of [
      ['month', month],
      ['compare', compare],
      ['logs of a month', logsOfMonth],
      ['month over HTTP', api],
    ] as const) {
      const ms = await timed(opened, call)
      found.push({ view, ...ms })
      console.log(
        `${kind}, ${count} machines, ${view}: clock p50 ${ms.p50.toFixed(1)}, p95 ${ms.p95.toFixed(1)} ms; processor time ` +
          `p95 ${ms.ownP95.toFixed(1)} ms, of the server's backends ${ms.backend.toFixed(1)} ms a call; ` +
          `${ms.kB.toFixed(0)} kB; load ${loadavg()[0].toFixed(1)}`,
      )
    }
  }
  for (const view of ['month', 'compare']) {
    const [small, large] = found.filter((one) => one.view === view)
    for (const which of ['p50', 'p95', 'ownP95'] as const) {
      const [few, many] = [small[which], large[which]]
      const wanted =
        which === 'p95'
          ? `, wanted under ${WANTED_MS[kind]}: ${many < WANTED_MS[kind] ? 'met' : 'missed'}`
          : ''
      const name = which === 'ownP95' ? 'processor p95' : which
      console.log(
        `${kind} ${view} ${name}: ${FLEETS[0]} machines ${few.toFixed(1)} ms, ` +
          `${FLEETS[1]} machines ${many.toFixed(1)} ms, ratio ${(many / few).toFixed(1)}${wanted}`,
      )
    }
  }
}

const pattern = await analysedLog()
console.log('a log is analysed')
const server = await emptyServerDatabase()
try {
  const opened = await openDatabase({ url: server.url, folder: null })
  await measure(opened, pattern)
  await opened.close()
} finally {
  await server.drop()
}
const folder = mkdtempSync(join(tmpdir(), 'tankward-fleet-'))
process.on('exit', () => rmSync(folder, { recursive: true, force: true }))
const embedded = await openDatabase({ folder: join(folder, 'data') })
await measure(embedded, pattern)
await embedded.close()
