import type { Database } from '@/db/client'
import { endReplaying, failLog, findLog, type LogKey, setLogProgress } from '@/db/queries/logs'
import { findMachine } from '@/db/queries/machines'
import { siteSettings } from '@/db/queries/sites'
import { deleteStaged } from '@/db/queries/staged-rows'
import type { LogError } from '@/db/schema/logs'
import { TankwardError } from '@/lib/errors'
import type { KeptFile } from './file-pieces'
import { inWorker, type RunTask } from './in-worker'
import { answersOf, inputsOf, machineAsRead, siteOfLog } from './inputs'
import { logFault } from './log-fault'
import { outageOf } from './outage'
import { progressTo } from './progress'
import { startStaging } from './staging'
import { storable } from './storable'
import { instantsOf, type SitedKey, storeOptions, storeStaged } from './store-log'
import { filesOf, type OnAccounted, type ReceivedFile, type Span } from './task'

export interface ArrivedFile extends ReceivedFile, KeptFile {
  readonly further?: readonly ArrivedFile[]
}

/** An error as it is kept with the log: known ones by code, faults as such, their text only in the server's log. */
export function logErrorOf(error: unknown): LogError {
  if (error instanceof TankwardError) return { code: error.code, values: storable({ ...error.values }) }
  logFault('import failed', error)
  return { code: outageOf(error) ?? 'internal', values: {} }
}

/**
 * Imports a file that has been entered with `receiveLog`: read, account, pack, and store all of it or nothing; then,
 * with the log stored, replay and store its options. Where only those fail they are missing until the log is brought up
 * to date. Never throws for what the file holds: a failed import leaves the log's row with its error, and nothing else.
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
  let isStored = false
  try {
    const machine = await findMachine(db, key.machineId)
    if (!machine) throw new TankwardError('unknown-machine', { machine: key.machineId })
    const site = await siteSettings(db, key.siteId)
    const reading = (await findLog(db, key.logId))?.reading?.reading ?? null
    // Nobody has seen the log yet: there is nothing to correct.
    const inputs = { machine: machineAsRead(machine.config, reading), site, corrections: [] }
    const staging = await startStaging(db, key)
    const task = { kind: 'import' as const, file, answers: answersOf(reading), ...inputs }
    const orStop = (error: unknown) => {
      staging.stop()
      throw error
    }
    // The file is packed and stored while it is read; both have ended before anything is done about a failure.
    const keeping = staging.keepFiles(filesOf(file)).catch(orStop)
    const made = (span: Span) => inputsOf(machine.config, siteOfLog(site, instantsOf(span)), [], reading)
    const store: OnAccounted = async (imported) => {
      await keeping
      progress.report('storing', 0)
      await progress.settled()
      await storeStaged(db, key, imported, made(imported.span), staging.counts)
      isStored = true
    }
    const [imported, kept] = await Promise.allSettled([
      run(task, progress.report, staging.onRows, store).catch(orStop),
      keeping,
    ])
    if (imported.status === 'rejected') throw imported.reason
    if (kept.status === 'rejected') throw kept.reason
    await storeOptions(db, key, imported.value.computed, made(imported.value.span))
    return true
  } catch (error) {
    await progress.settled()
    return isStored ? await leaveWithoutOptions(db, key, error) : await failImport(db, key, error)
  }
}

/** When it is tried again to write down why an import failed. */
const TELL_AGAIN_MS = [500, 1000, 2000, 4000, 8000, 15_000, 30_000]

/** A database that is gone may come back; if not, whoever opens it next puts right what is left unsaid. */
async function tellAgain<T>(tell: () => Promise<T>): Promise<T> {
  for (const waitMs of TELL_AGAIN_MS)
    try {
      return await tell()
    } catch {
      await new Promise((resolve) => setTimeout(resolve, waitMs))
    }
  return await tell()
}

/** @returns whether the log is still there */
const leaveWithoutOptions = (db: Database, key: LogKey, error: unknown): Promise<boolean> => {
  const kept = logErrorOf(error)
  return tellAgain(() => endReplaying(db, key, kept))
}

/** @returns that the log is not stored */
async function failImport(db: Database, key: LogKey, error: unknown): Promise<false> {
  // Somebody undid the import while it ran: there is no row left to mark, nor to hang anything on.
  const isUndone = await findLog(db, key.logId).then(
    (row) => row === null,
    () => false,
  )
  if (isUndone) return false
  const kept = logErrorOf(error)
  await tellAgain(async () => {
    await deleteStaged(db, key)
    await failLog(db, key, kept)
  })
  return false
}
