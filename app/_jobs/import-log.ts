import type { Database } from '@/db/client'
import { failLog, findLog, type LogKey, setLogProgress } from '@/db/queries/logs'
import { findMachine } from '@/db/queries/machines'
import { siteSettings } from '@/db/queries/sites'
import type { LogError } from '@/db/schema/logs'
import { TankwardError } from '@/lib/errors'
import { filePieces, type KeptFile, packFile } from './file-pieces'
import { inWorker, type RunTask } from './in-worker'
import { answersOf, inputsOf, machineAsRead, siteOfLog } from './inputs'
import { logFault } from './log-fault'
import { outageOf } from './outage'
import { progressTo } from './progress'
import { storable } from './storable'
import { instantsOf, type SitedKey, storeImported } from './store-log'
import type { ReceivedFile } from './task'

export type ArrivedFile = ReceivedFile & KeptFile

/** An error as it is kept with the log: known ones by code, faults as such, their text only in the server's log. */
export function logErrorOf(error: unknown): LogError {
  if (error instanceof TankwardError) return { code: error.code, values: storable({ ...error.values }) }
  logFault('import failed', error)
  return { code: outageOf(error) ?? 'internal', values: {} }
}

/**
 * Imports a file that has been entered with `receiveLog`: read, analyse, pack, and store all of it or nothing.
 * Never throws for what the file holds: a failed import leaves the log's row with its error, and nothing else.
 * @param run where the reading and analysing is done
 * @returns whether the log is stored
 */
export async function importLog(
  db: Database,
  key: SitedKey,
  file: ArrivedFile,
  run: RunTask = inWorker,
): Promise<boolean> {
  const progress = progressTo((state, share) => setLogProgress(db, key, state, share))
  try {
    const machine = await findMachine(db, key.machineId)
    if (!machine) throw new TankwardError('unknown-machine', { machine: key.machineId })
    const site = await siteSettings(db, key.siteId)
    const reading = (await findLog(db, key.logId))?.reading?.reading ?? null
    // Nobody has seen the log yet: there is nothing to correct.
    const inputs = { machine: machineAsRead(machine.config, reading), site, corrections: [] }
    const imported = await run(
      { kind: 'import', file, answers: answersOf(reading), ...inputs },
      progress.report,
    )
    progress.report('storing', 0)
    // Before the transaction, which holds up every other query of the embedded database.
    const packed = await packFile(file)
    try {
      await progress.settled()
      const made = inputsOf(machine.config, siteOfLog(site, instantsOf(imported.span)), [], reading)
      await storeImported(db, key, imported, made, filePieces(packed))
    } finally {
      await packed.remove()
    }
    return true
  } catch (error) {
    await progress.settled()
    await failImport(db, key, error)
    return false
  }
}

/** When it is tried again to write down why an import failed. */
const TELL_AGAIN_MS = [500, 1000, 2000, 4000, 8000, 15_000, 30_000]

async function failImport(db: Database, key: LogKey, error: unknown): Promise<void> {
  const kept = logErrorOf(error)
  // Somebody undid the import while it ran: there is no row left to mark.
  if (kept.code === 'import-undone') return
  for (const waitMs of [...TELL_AGAIN_MS, null])
    try {
      return await failLog(db, key, kept)
    } catch (fault) {
      // A database that is gone may come back; if not, whoever opens it next marks the import as interrupted.
      if (waitMs === null) throw fault
      await new Promise((resolve) => setTimeout(resolve, waitMs))
    }
}
