import { LRUCache } from 'lru-cache'
import type { Database } from '@/db/client'
import {
  listMonthMarks,
  listPackedMonths,
  listUnpackedMonths,
  type PackedMonths,
  type UnpackedMonth,
} from '@/db/queries/narrow-months'
import { KIND_TABLE_LENGTH, type KindTable, kindTable } from '@/lib/months/kind-table'
import { NARROW_LAYOUT, type NarrowMonth, narrowMonth, restsAt, unpackMonth } from '@/lib/months/narrow-month'
import { unpackTables } from '@/lib/months/packed-tables'

/** A month of all machines of a site that were logged in it; each is made where it is asked for. */
export interface FleetMonth {
  has(machineId: string): boolean
  narrowOf(machineId: string): NarrowMonth | null
  /** What is needed of a month that another is held against. */
  tableOf(machineId: string): KindTable | null
}

export const NO_MONTH: FleetMonth = { has: () => false, narrowOf: () => null, tableOf: () => null }

const numbersOf = (bytes: Uint8Array) =>
  new Float64Array(bytes.buffer, bytes.byteOffset, bytes.byteLength / Float64Array.BYTES_PER_ELEMENT)

interface ReadMonth {
  readonly month: FleetMonth
  readonly byteLength: number
}

/** @param others machines that are packed otherwise than today, or not yet */
function fleetMonth(
  { machineIds, kindTables, narrowRests }: PackedMonths,
  others: readonly UnpackedMonth[],
): ReadMonth {
  const tables = unpackTables(numbersOf(kindTables), machineIds.length)
  const rests = numbersOf(narrowRests)
  const starts = restsAt(rests, machineIds.length)
  const places = new Map(machineIds.map((id, i) => [id, i]))
  const summaries = new Map(others.map(({ machineId, summary }) => [machineId, summary]))
  const tableAt = (i: number) => tables.subarray(i * KIND_TABLE_LENGTH, (i + 1) * KIND_TABLE_LENGTH)
  const either = <Value>(
    id: string,
    packed: (place: number) => Value,
    other: (summary: UnpackedMonth['summary']) => Value,
  ): Value | null => {
    const place = places.get(id)
    if (place !== undefined) return packed(place)
    const summary = summaries.get(id)
    return summary ? other(summary) : null
  }
  return {
    month: {
      has: (id) => places.has(id) || summaries.has(id),
      narrowOf: (id) => either(id, (i) => unpackMonth(tableAt(i), rests, starts[i]), narrowMonth),
      tableOf: (id) => either(id, tableAt, ({ kinds }) => kindTable(kinds)),
    },
    byteLength: tables.byteLength + rests.byteLength + BYTES_OF_PLACE * machineIds.length,
  }
}

/** Of a machine's place among others, about. */
const BYTES_OF_PLACE = 100
/** Three years of a fleet of 500 machines take about half. */
const MOST_BYTES = 64e6

/** Months as they were read, by site, month and mark. */
type Kept = LRUCache<string, ReadMonth>

const kept = new WeakMap<Database, Kept>()

function keptOf(db: Database): Kept {
  const known = kept.get(db)
  if (known) return known
  const fresh: Kept = new LRUCache({ maxSize: MOST_BYTES, sizeCalculation: ({ byteLength }) => byteLength })
  kept.set(db, fresh)
  return fresh
}

/**
 * Some months of a site. What was read before is kept in this process and holds as long as no row of the month was written
 * or taken away since, in whatever process: that is asked with every call, and takes a tenth of reading the rows.
 */
export async function fleetMonths(
  db: Database,
  siteId: string,
  months: readonly string[],
): Promise<Map<string, FleetMonth>> {
  const known = keptOf(db)
  const marks = await listMonthMarks(db, siteId, months)
  const found = new Map<string, FleetMonth>()
  const missing: string[] = []
  const keyOf = (month: string) => `${siteId} ${month} ${marks.get(month)}`
  for (const month of marks.keys()) {
    const one = known.get(keyOf(month))
    if (one) found.set(month, one.month)
    else missing.push(month)
  }
  const packed = await listPackedMonths(db, siteId, missing, NARROW_LAYOUT)
  const unpacked = packed.filter((one) => one.unpacked > 0).map(({ month }) => month)
  const others = unpacked.length > 0 ? await listUnpackedMonths(db, siteId, unpacked, NARROW_LAYOUT) : []
  for (const one of packed) {
    const own = others.filter(({ month }) => month === one.month)
    const read = fleetMonth(one, own)
    found.set(one.month, read.month)
    // The mark was read first: rows written in between are read again under the next one.
    if (own.length === 0) known.set(keyOf(one.month), read)
  }
  return found
}
