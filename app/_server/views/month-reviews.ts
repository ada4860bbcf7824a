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

/**
 * What is known of machines, made where it is asked for: thousands of small objects kept while others are waited for cost
 * the collector more than making them.
 */
interface OfMachines<Value> {
  has(id: string): boolean
  of(id: string): Value | null
}

/** @param make from the place among the ids @param others machines that are not among them */
function ofMachines<Value>(
  ids: readonly string[],
  make: (place: number) => Value,
  others: ReadonlyMap<string, () => Value>,
): OfMachines<Value> {
  const places = new Map<string, number>()
  for (let i = 0; i < ids.length; i++) places.set(ids[i], i)
  return {
    has: (id) => places.has(id) || others.has(id),
    of: (id) => {
      const place = places.get(id)
      return place === undefined ? (others.get(id)?.() ?? null) : make(place)
    },
  }
}

/** Of a month without logs no row comes. */
const NOTHING_PACKED = { machineIds: [], kindTables: new Uint8Array(), narrowRests: new Uint8Array() }

function narrowOf(
  { machineIds, kindTables, narrowRests }: Omit<PackedMonths, 'month' | 'unpacked'>,
  others: ReadonlyMap<string, () => NarrowMonth>,
): OfMachines<NarrowMonth> {
  const tables = unpackTables(numbersOf(kindTables), machineIds.length)
  const rests = numbersOf(narrowRests)
  const starts = restsAt(rests, machineIds.length)
  return ofMachines(machineIds, (i) => unpackMonth(tableAt(tables, i), rests, starts[i]), others)
}

/** Some months of every machine that was logged in them, with all that pages need of each. */
export async function narrowMonths(
  db: Database,
  months: readonly string[],
): Promise<Map<string, OfMachines<NarrowMonth>>> {
  const found = await listPackedMonths(db, DEFAULT_SITE_ID, months, NARROW_LAYOUT, true)
  const unpacked = await unpackedOf(db, found)
  const othersOf = (month: string) =>
    new Map(
      unpacked
        .filter((one) => one.month === month)
        .map(({ machineId, summary }) => [machineId, () => narrowMonth(summary)]),
    )
  return new Map(found.map((one) => [one.month, narrowOf(one, othersOf(one.month))]))
}

/** A month of every machine that was logged in it. */
const ownMonths = async (db: Database, month: string): Promise<OfMachines<NarrowMonth>> =>
  (await narrowMonths(db, [month])).get(month) ?? narrowOf(NOTHING_PACKED, new Map())

/** What a month is held against, by month and machine. */
async function heldMonths(
  db: Database,
  months: readonly string[],
): Promise<Map<string, OfMachines<KindTable>>> {
  const found = await listPackedMonths(db, DEFAULT_SITE_ID, months, NARROW_LAYOUT, false)
  const others = new Map(found.map(({ month }) => [month, new Map<string, () => KindTable>()]))
  for (const { machineId, month, summary } of await unpackedOf(db, found))
    others.get(month)?.set(machineId, () => kindTable(summary.kinds))
  return new Map(
    found.map(({ month, machineIds, kindTables }) => {
      const tables = unpackTables(numbersOf(kindTables), machineIds.length)
      return [month, ofMachines(machineIds, (i) => tableAt(tables, i), others.get(month) ?? new Map())]
    }),
  )
}

/** The marks that count, by machine, with the months that each spans. */
export async function baselineSpans(db: Database) {
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
  readonly own: OfMachines<NarrowMonth>
  readonly baselines: Awaited<ReturnType<typeof baselineSpans>>
  readonly held: Awaited<ReturnType<typeof heldMonths>>
  readonly bests: (machineId: string) => BestOption | null
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
    const narrow = own.of(id)
    if (!narrow) continue
    const mark = baselines.get(id)
    const heldTo = {
      previous: monthsHeld(held, id, previous),
      lastYear: monthsHeld(held, id, lastYear),
      baseline: monthsHeld(held, id, mark?.months ?? []),
    }
    const review = reviewMachine(month, { id, name }, narrow, heldTo, site)
    yield { machineId: id, name, line, review, baseline: mark?.baseline ?? null, best: bests(id) }
  }
}

/** Those of some months that hold anything of a machine; null where none does. */
function monthsHeld(held: MonthRead['held'], id: string, months: readonly string[]) {
  const found: { month: string; table: KindTable }[] = []
  for (const month of months) {
    const table = held.get(month)?.of(id)
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
