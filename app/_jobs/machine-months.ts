import type { Database } from '@/db/client'
import { deleteLog, type LogKey } from '@/db/queries/logs'
import {
  listLogMonths,
  listMachineTotals,
  listMonthsOfLog,
  listUnsummarised,
  lockMachineMonths,
  saveMachineMonth,
} from '@/db/queries/machine-months'
import { sumMonthDigests } from '@/db/queries/month-digests'
import { lockUnpackedMonths, type PackedMonth, savePackedMonth } from '@/db/queries/narrow-months'
import { NARROW_LAYOUT, narrowMonth, packRest } from '@/lib/months/narrow-month'
import { packTable } from '@/lib/months/packed-tables'
import { type MonthSummary, summarise } from '@/lib/months/summary'

const bytesOf = ({ buffer, byteOffset, byteLength }: Float64Array) =>
  new Uint8Array(buffer, byteOffset, byteLength)

/** What pages read of a month, made of its summary. */
export function packedMonth(summary: MonthSummary): PackedMonth {
  const narrow = narrowMonth(summary)
  return {
    kindTable: bytesOf(packTable(narrow.table)),
    narrowRest: bytesOf(packRest(narrow)),
    narrowLayout: NARROW_LAYOUT,
  }
}

/**
 * Makes a machine's summaries of some months anew from what its logs add to them. One transaction at a time does so for a
 * machine: the next one sees what the one before it stored.
 */
export async function refreshMachineMonths(
  db: Database,
  { machineId, siteId }: { readonly machineId: string; readonly siteId: string },
  months: Iterable<string>,
): Promise<void> {
  await db.transaction(async (tx) => {
    await lockMachineMonths(tx, machineId)
    for (const month of new Set(months)) {
      const rows = await listMachineTotals(tx, machineId, month)
      const summary = rows.length > 0 ? summarise(rows, await listLogMonths(tx, machineId, month)) : null
      const digest = await sumMonthDigests(tx, { machineId, month })
      const made = summary && { summary, packed: packedMonth(summary), digest }
      await saveMachineMonth(tx, { machineId, siteId, month }, made)
    }
  })
}

/** Summarises what was stored before months were summarised; how sure it is, is known once its logs are brought up to date. */
export async function summariseEarlierMonths(db: Database): Promise<void> {
  for (const { month, ...key } of await listUnsummarised(db)) await refreshMachineMonths(db, key, [month])
}

/** Months packed at once. */
const PACKED_AT_ONCE = 200

/** Packs what was summarised before pages read packed months, or in another layout. */
export async function packEarlierMonths(db: Database): Promise<void> {
  const packSome = (tx: Database) =>
    lockUnpackedMonths(tx, NARROW_LAYOUT, PACKED_AT_ONCE).then(async (found) => {
      for (const { summary, ...key } of found) await savePackedMonth(tx, key, packedMonth(summary))
      return found.length
    })
  while ((await db.transaction(packSome)) > 0);
}

/** Deletes a log and takes what it added out of its machine's months, both or neither. */
export async function removeLog(db: Database, key: LogKey & { readonly siteId: string }): Promise<void> {
  await db.transaction(async (tx) => {
    const months = await listMonthsOfLog(tx, key)
    await deleteLog(tx, key)
    await refreshMachineMonths(tx, key, months)
  })
}
