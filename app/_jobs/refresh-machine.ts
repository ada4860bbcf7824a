import type { Database } from '@/db/client'
import { listAnalysisInputs } from '@/db/queries/analyses'
import { listMachineCorrections } from '@/db/queries/corrections'
import { listDoneLogs, noteLogError } from '@/db/queries/logs'
import { findMachine } from '@/db/queries/machines'
import { siteSettings } from '@/db/queries/sites'
import type { LogRow } from '@/db/schema/logs'
import { logErrorOf } from './import-log'
import { inputsOf, overlapOf, siteOfLog } from './inputs'
import { reanalyseLog } from './reanalyse-log'
import { rereadLog } from './reread-log'
import type { OnRefresh } from './task'

export interface StaleLog {
  readonly row: LogRow
  /** Whether the file must be read again, or its samples still serve. */
  readonly needsReading: boolean
}

/** A machine's stored logs whose figures are of another set-up, price, engine or other corrections than today's. */
export async function staleLogs(db: Database, machineId: string): Promise<StaleLog[]> {
  const machine = await findMachine(db, machineId)
  if (!machine) return []
  const site = await siteSettings(db, machine.siteId)
  const corrections = await listMachineCorrections(db, machineId)
  const made = new Map((await listAnalysisInputs(db, machineId)).map((inputs) => [inputs.logId, inputs]))
  const done = await listDoneLogs(db, machineId)
  return done.flatMap((row) => {
    const inputs = made.get(row.id)
    const own = corrections.filter(({ logId }) => logId === row.id)
    const today = inputsOf(
      machine.config,
      siteOfLog(site, row),
      own,
      row.reading?.reading,
      overlapOf(row, done),
    )
    const needsReading = inputs?.readingInputs !== today.readingInputs
    return needsReading || inputs?.computingInputs !== today.computingInputs ? [{ row, needsReading }] : []
  })
}

/**
 * Brings one stale log up to date. Where that fails its earlier figures stay, with the reason noted beside them.
 * @returns whether it is up to date
 */
export async function refreshLog(
  db: Database,
  { row, needsReading }: StaleLog,
  onProgress: OnRefresh = () => {},
): Promise<boolean> {
  const key = { machineId: row.machineId, logId: row.id }
  try {
    await (needsReading ? rereadLog : reanalyseLog)(db, row, onProgress)
    await noteLogError(db, key, null)
    return true
  } catch (error) {
    await noteLogError(db, key, logErrorOf(error))
    return false
  }
}
