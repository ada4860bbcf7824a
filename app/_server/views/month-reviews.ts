import type { Database } from '@/db/client'
import { listBestOptions } from '@/db/queries/log-digests'
import { listMachineNames, type MachineName } from '@/db/queries/machines'
import { listBaselineSpans } from '@/db/queries/month-baselines'
import { listPackedMonths, listUnpackedMonths, type PackedMonths } from '@/db/queries/narrow-months'
import { DEFAULT_SITE_ID, siteSettings } from '@/db/queries/sites'
import type { BestOption } from '@/db/schema/log-digests'
import type { Site } from '@/lib/contract/site'
import { KIND_TABLE_LENGTH, type KindTable, kindTable } from '@/lib/months/kind-table'
import { NARROW_LAYOUT, type NarrowMonth, narrowMonth, restsAt, unpackMonth } from '@/lib/months/narrow-month'
import { unpackTables } from '@/lib/months/packed-tables'
import { type MachineReview, reviewMachine } from '@/lib/months/review'
import { monthBefore, monthsBetween, yearBefore } from './month-names'

export interface MachineReviewView {
  readonly machineId: string
  readonly name: string
  readonly line: string | null
  readonly review: MachineReview
  readonly baseline: { readonly fromMonth: string; readonly untilMonth: string } | null
  /** What to do first with it, from its latest log; null where no option saves. */
  readonly best: BestOption | null
}

/** The figures of a month, machine by machine, without the logs behind them. */
export interface MonthReviews {
  readonly site: Site
  readonly machines: readonly MachineReviewView[]
  /** Machines without a log in this month. */
  readonly unlogged: readonly { readonly id: string; readonly name: string }[]
}

const numbersOf = (bytes: Uint8Array) =>
  new Float64Array(bytes.buffer, bytes.byteOffset, bytes.byteLength / Float64Array.BYTES_PER_ELEMENT)

const tableAt = (tables: Float64Array, i: number) =>
  tables.subarray(i * KIND_TABLE_LENGTH, (i + 1) * KIND_TABLE_LENGTH)

/** Summaries of months of which some machines are not packed as today. */
const unpackedOf = (db: Database, found: readonly PackedMonths[]) => {
  const months = found.filter(({ unpacked }) => unpacked > 0).map(({ month }) => month)
  return months.length > 0 ? listUnpackedMonths(db, DEFAULT_SITE_ID, months, NARROW_LAYOUT) : []
}

/** A month of every machine that was logged in it, unpacked when it is asked for. */
async function ownMonths(db: Database, month: string): Promise<Map<string, () => NarrowMonth>> {
  const found = await listPackedMonths(db, DEFAULT_SITE_ID, [month], NARROW_LAYOUT, true)
  const own = new Map<string, () => NarrowMonth>()
  for (const { machineIds, kindTables, narrowRests } of found) {
    const [tables, rests] = [unpackTables(numbersOf(kindTables), machineIds.length), numbersOf(narrowRests)]
    const starts = restsAt(rests, machineIds.length)
    for (const [i, id] of machineIds.entries())
      own.set(id, () => unpackMonth(tableAt(tables, i), rests, starts[i]))
  }
  for (const { machineId, summary } of await unpackedOf(db, found))
    own.set(machineId, () => narrowMonth(summary))
  return own
}

/** What a month is held against, by month and machine. */
async function heldMonths(
  db: Database,
  months: readonly string[],
): Promise<Map<string, Map<string, KindTable>>> {
  const found = await listPackedMonths(db, DEFAULT_SITE_ID, months, NARROW_LAYOUT, false)
  const held = new Map(
    found.map(({ month, machineIds, kindTables }) => {
      const tables = unpackTables(numbersOf(kindTables), machineIds.length)
      return [month, new Map(machineIds.map((id, i) => [id, tableAt(tables, i)]))]
    }),
  )
  for (const { machineId, month, summary } of await unpackedOf(db, found))
    held.get(month)?.set(machineId, kindTable(summary.kinds))
  return held
}

/** The marks that count, by machine, with the months that each spans. */
async function baselineSpans(db: Database) {
  const spans = await listBaselineSpans(db, DEFAULT_SITE_ID)
  return new Map(
    spans.flatMap(({ machineIds, fromMonth, untilMonth }) => {
      const span = { baseline: { fromMonth, untilMonth }, months: monthsBetween(fromMonth, untilMonth) }
      return machineIds.map((id) => [id, span] as const)
    }),
  )
}

/** What a month's figures are made of, read and not reviewed yet. */
export interface MonthRead {
  readonly month: string
  readonly site: Site
  readonly known: readonly MachineName[]
  readonly own: Map<string, () => NarrowMonth>
  readonly baselines: Awaited<ReturnType<typeof baselineSpans>>
  readonly held: Awaited<ReturnType<typeof heldMonths>>
  readonly bests: ReadonlyMap<string, BestOption>
}

/** Reads a month as today's logs and settings make it. All is asked for at once: a server answers side by side. */
export async function readMonth(db: Database, month: string): Promise<MonthRead> {
  const before = [monthBefore(month), yearBefore(month)]
  const references = baselineSpans(db).then(async (baselines) => {
    const spans = new Set([...baselines.values()].map(({ months }) => months))
    return { baselines, held: await heldMonths(db, [...new Set([before, ...spans].flat())]) }
  })
  const [site, known, own, { baselines, held }, bests] = await Promise.all([
    siteSettings(db),
    listMachineNames(db, DEFAULT_SITE_ID),
    ownMonths(db, month),
    references,
    listBestOptions(db, DEFAULT_SITE_ID),
  ])
  return { month, site, known, own, baselines, held, bests }
}

/**
 * The reviews of the machines logged, one after the other: who keeps of each but some numbers leaves nothing for the
 * collector to carry about, which takes longer than the reviews.
 */
export function* reviewsOf(read: MonthRead): Generator<MachineReviewView> {
  const { month, site, known, own, baselines, held, bests } = read
  const [previous, lastYear] = [[monthBefore(month)], [yearBefore(month)]]
  for (const { id, name, line } of known) {
    const narrow = own.get(id)
    if (!narrow) continue
    const mark = baselines.get(id)
    const heldTo = {
      previous: monthsHeld(held, id, previous),
      lastYear: monthsHeld(held, id, lastYear),
      baseline: monthsHeld(held, id, mark?.months ?? []),
    }
    const review = reviewMachine(month, { id, name }, narrow(), heldTo, site)
    yield { machineId: id, name, line, review, baseline: mark?.baseline ?? null, best: bests.get(id) ?? null }
  }
}

/** Those of some months that hold anything of a machine; null where none does. */
function monthsHeld(held: MonthRead['held'], id: string, months: readonly string[]) {
  const found: { month: string; table: KindTable }[] = []
  for (const month of months) {
    const table = held.get(month)?.get(id)
    if (table) found.push({ month, table })
  }
  return found.length > 0 ? { months: found } : null
}

export const unloggedOf = ({ known, own }: MonthRead): MonthReviews['unlogged'] =>
  known.filter(({ id }) => !own.has(id)).map(({ id, name }) => ({ id, name }))

export async function monthReviews(db: Database, month: string): Promise<MonthReviews> {
  const read = await readMonth(db, month)
  return { site: read.site, machines: [...reviewsOf(read)], unlogged: unloggedOf(read) }
}
