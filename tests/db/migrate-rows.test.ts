import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { PGlite } from '@electric-sql/pglite'
import { sql } from 'drizzle-orm'
import { drizzle as drizzlePglite } from 'drizzle-orm/pglite'
import { migrate as migratePglite } from 'drizzle-orm/pglite/migrator'
import { drizzle as drizzlePostgres } from 'drizzle-orm/postgres-js'
import { migrate as migratePostgres } from 'drizzle-orm/postgres-js/migrator'
import postgres from 'postgres'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { packEarlierMonths } from '@/app/_jobs/machine-months'
import { fleetMonths } from '@/app/_server/views/packed-months'
import type { Database } from '@/db/client'
import { migrateEmbedded, migrateServer } from '@/db/migrate'
import { listLatestMonths, listWasteShares } from '@/db/queries/machine-trends'
import { listMonths } from '@/db/queries/month-totals'
import { listPackedMonths, listUnpackedMonths } from '@/db/queries/narrow-months'
import { countMonthLogs, listMonthQuality, listWorstProblems } from '@/db/queries/views-quality'
import { FIGURES } from '@/lib/months/figures'
import { NARROW_LAYOUT, narrowMonth, unpackMonth } from '@/lib/months/narrow-month'
import { unpackTables } from '@/lib/months/packed-tables'
import type { MonthSummary } from '@/lib/months/summary'
import { emptyServerDatabase, onServer } from './databases'

// Rows that were there before a migration, as the tables were then: written in SQL, as today's schema knows them no more.

const FOLDER = join(process.cwd(), 'db', 'migrations')
/** The last migration before log digests held problems. */
const BEFORE_PROBLEMS = '0010_months-closed-and-settings-kept'
const LOGS = ['sound', 'odd', 'undigested', 'unread']
const PROBLEMS = [
  { code: 'sensor-spike', line: null, column: 'p', count: 2, values: { startS: 1, endS: 2 } },
  { code: 'unreadable-cell', line: 3, column: 'q', count: 1, values: { empty: 1 } },
]
const SUMMARY: MonthSummary = {
  logs: 4,
  cycles: 1,
  kinds: [
    { kind: 'work-moving', seconds: 60, kWh: [1, 0, null, 0, 2], cost: [1, 0, null, 0, 2], heatKWh: 0.5 },
  ],
  spread: {
    independent: FIGURES.flatMap((_, i) => FIGURES.map((__, j) => (i === j ? 0.01 : 0))),
    shared: FIGURES.map(() => [0.1]),
    ends: [],
  },
  daySpread: { days: 1, meanHours: 1 / 60, covariance: null },
  spans: [{ fromMs: 5, toMs: 65 }],
  peakW: null,
  reactive: { varS: 3, electricJ: 4, isRatedVoltage: true },
  leftOutS: 0,
}

/** A folder with the migrations up to one, itself among them. */
function migrationsUntil(last: string): string {
  const folder = mkdtempSync(join(tmpdir(), 'tankward-migrations-'))
  cpSync(FOLDER, folder, { recursive: true })
  const path = join(folder, 'meta', '_journal.json')
  const journal = JSON.parse(readFileSync(path, 'utf8'))
  const end = journal.entries.findIndex(({ tag }: { tag: string }) => tag === last) + 1
  writeFileSync(path, JSON.stringify({ ...journal, entries: journal.entries.slice(0, end) }))
  return folder
}

async function writeRows(db: Database): Promise<void> {
  await db.execute(sql`insert into sites (id, settings) values ('site', '{}')`)
  await db.execute(sql`insert into machines (id, site_id, name, config) values ('m', 'site', 'M', '{}')`)
  for (const id of LOGS) {
    await db.execute(
      sql`insert into logs (machine_id, id, site_id, sha256, file_name, byte_length, state) values ('m', ${id}, 'site', ${id}, ${`${id}.csv`}, 1, 'done')`,
    )
    await db.execute(
      sql`insert into month_totals (machine_id, log_id, site_id, month, phase_kind, seconds, electric_j, motor_loss_j, pump_loss_j, over_relief_j, unloading_j, into_system_j, unaccounted_j, cost, cycles)
        values ('m', ${id}, 'site', '2026-03', 'working', 60, 1, 0, 0, 0, 0, 1, 0, 0, 1)`,
    )
  }
  for (const id of ['sound', 'odd', 'undigested']) {
    const analysis = JSON.stringify({ log: { problems: id === 'sound' ? [] : PROBLEMS } })
    await db.execute(
      sql`insert into analyses (machine_id, log_id, site_id, engine_version, reading_inputs, computing_inputs, analysis) values ('m', ${id}, 'site', 1, '', '', ${analysis}::text::jsonb)`,
    )
  }
  for (const id of ['sound', 'odd'])
    await db.execute(
      sql`insert into log_digests (machine_id, log_id, site_id, received_at, figures, model_trusted, choices, cautions) values ('m', ${id}, 'site', now(), '{}', true, '[]', '{}')`,
    )
  await db.execute(
    sql`insert into month_digests (machine_id, log_id, site_id, month, running_s, electric_j, idle_j, waste_j, cost, cycles) select machine_id, log_id, site_id, '2026-03', 60, 1, 0, 0, 0, 1 from log_digests`,
  )
  const summary = JSON.stringify(SUMMARY)
  await db.execute(
    sql`insert into machine_months (machine_id, site_id, month, summary) values ('m', 'site', '2026-03', ${summary}::text::jsonb)`,
  )
}

function holds(opened: () => Database): void {
  it('gives digests of logs stored before the problems of their analyses, counted', async () => {
    const logs = await listMonthQuality(opened(), 'site', '2026-03')
    const of = (logId: string) => logs.find((log) => log.logId === logId)
    expect(of('sound')).toMatchObject({ problemCount: 0, modelTrusted: true })
    expect(of('odd')).toMatchObject({ problemCount: PROBLEMS.length, modelTrusted: true })
    const worst = await listWorstProblems(opened(), 'site', '2026-03', 9)
    expect(worst).toEqual([{ logId: 'odd', problems: PROBLEMS }])
    // Those that add to the month, and the odd one among them.
    expect(await countMonthLogs(opened(), 'site', '2026-03')).toEqual({
      logs: 2,
      suspicious: 1,
      replaying: 0,
    })
  })

  it('lists logs whose analysis has no digest among the month’s, as not known', async () => {
    const logs = await listMonthQuality(opened(), 'site', '2026-03')
    expect(logs.map(({ logId }) => logId).sort()).toEqual([...LOGS].sort())
    for (const id of ['undigested', 'unread'])
      expect(logs.find(({ logId }) => logId === id)).toMatchObject({ problemCount: null, modelTrusted: null })
  })

  it('reads of months summarised before what others are held against', async () => {
    const months = ['2026-03', '2026-04']
    const packed = () => listPackedMonths(opened(), 'site', months, NARROW_LAYOUT)
    const ofMonth = { month: '2026-03', machineIds: [], unpacked: 1 }
    expect(await packed()).toEqual([expect.objectContaining(ofMonth)])
    const unpacked = await listUnpackedMonths(opened(), 'site', months, NARROW_LAYOUT)
    expect(unpacked).toEqual([{ machineId: 'm', siteId: 'site', month: '2026-03', summary: SUMMARY }])
    const narrow = async () => (await fleetMonths(opened(), 'site', months)).get('2026-03')?.narrowOf('m')
    expect(await narrow()).toEqual(narrowMonth(SUMMARY))
    // Nothing of it is lost: what is packed is what its summary says.
    await packEarlierMonths(opened())
    const [{ machineIds, kindTables, narrowRests, unpacked: left }] = await packed()
    expect([machineIds, left]).toEqual([['m'], 0])
    const numbers = ({ buffer }: Uint8Array) => new Float64Array(buffer as ArrayBuffer)
    const tables = unpackTables(numbers(kindTables), 1)
    expect(await narrow()).toEqual(narrowMonth(SUMMARY))
    expect(unpackMonth(tables, numbers(narrowRests), 0)).toEqual(narrowMonth(SUMMARY))
    // Its two logs with digests, put together.
    const digest = { month: '2026-03', runningS: 120, electricJ: 2, idleJ: 0, wasteJ: 0, cost: 0, cycles: 2 }
    expect(await listLatestMonths(opened(), 'site')).toEqual(new Map([['m', digest]]))
    expect(await listWasteShares(opened(), 'site', '2026-03')).toEqual([
      { month: '2026-03', shares: [['m', 0]] },
    ])
    expect(await listMonths(opened(), 'site')).toEqual(['2026-03'])
    expect(await listMonths(opened(), 'elsewhere')).toEqual([])
  })
}

const early = migrationsUntil(BEFORE_PROBLEMS)
afterAll(() => rmSync(early, { recursive: true }))

describe('rows from before a migration (PGlite)', () => {
  let client: PGlite
  beforeAll(async () => {
    client = await PGlite.create()
    await migratePglite(drizzlePglite(client), { migrationsFolder: early })
    await writeRows(drizzlePglite(client) as unknown as Database)
    await migrateEmbedded(client)
  })
  afterAll(() => client?.close())
  holds(() => drizzlePglite(client) as unknown as Database)
})

onServer('rows from before a migration', () => {
  let client: postgres.Sql
  let drop: () => Promise<void> = async () => {}
  beforeAll(async () => {
    const empty = await emptyServerDatabase()
    drop = empty.drop
    client = postgres(empty.url, { max: 1, onnotice: () => {} })
    await migratePostgres(drizzlePostgres(client), { migrationsFolder: early })
    await writeRows(drizzlePostgres(client) as unknown as Database)
    await migrateServer(empty.url)
  })
  afterAll(async () => {
    await client?.end()
    await drop()
  })
  holds(() => drizzlePostgres(client) as unknown as Database)
})
