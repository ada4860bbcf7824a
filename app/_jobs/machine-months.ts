import type { Database } from '@/db/client'
import { deleteLog, type LogKey } from '@/db/queries/logs'
import {
  listLogMonths,
  listMachineTotals,
  listMonthsOfLog,
  listUnsummarised,
  saveMachineMonth,
} from '@/db/queries/machine-months'
import { summarise } from '@/lib/months/summary'

/** Makes a machine's summaries of some months anew from what its logs add to them. */
export async function refreshMachineMonths(
  db: Database,
  { machineId, siteId }: { readonly machineId: string; readonly siteId: string },
  months: Iterable<string>,
): Promise<void> {
  for (const month of new Set(months)) {
    const rows = await listMachineTotals(db, machineId, month)
    const summary = rows.length > 0 ? summarise(rows, await listLogMonths(db, machineId, month)) : null
    await saveMachineMonth(db, { machineId, siteId, month }, summary)
  }
}

/** Summarises what was stored before months were summarised; how sure it is, is known once its logs are brought up to date. */
export async function summariseEarlierMonths(db: Database): Promise<void> {
  for (const { month, ...key } of await listUnsummarised(db)) await refreshMachineMonths(db, key, [month])
}

/** Deletes a log and takes what it added out of its machine's months, both or neither. */
export async function removeLog(db: Database, key: LogKey & { readonly siteId: string }): Promise<void> {
  await db.transaction(async (tx) => {
    const months = await listMonthsOfLog(tx, key)
    await deleteLog(tx, key)
    await refreshMachineMonths(tx, key, months)
  })
}
