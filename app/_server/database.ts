import { deadImportsBefore } from '@/app/_jobs/heartbeat'
import { keepHouse } from '@/app/_jobs/housekeeping'
import { digestOldAnalyses } from '@/app/_jobs/log-digest'
import { logFault } from '@/app/_jobs/log-fault'
import { packEarlierMonths, summariseEarlierMonths } from '@/app/_jobs/machine-months'
import { queueRefresh } from '@/app/_jobs/queue'
import { removeOldTempFiles } from '@/app/_jobs/temp-file'
import { type Database, type OpenDatabase, openDatabase, placeFromEnv } from '@/db/client'
import { endDeadReplays, failDeadImports } from '@/db/queries/logs'
import { listMachines } from '@/db/queries/machines'
import { deleteStagedOfFailed } from '@/db/queries/staged-rows'

// Next evaluates modules several times; the one handle lives where all of them see it.
const shared = globalThis as typeof globalThis & { tankwardDatabase?: Promise<OpenDatabase> }

/** Opens the database and puts right what a process that died left behind. */
export async function openForWork(): Promise<OpenDatabase> {
  const opened = await openDatabase(placeFromEnv(process.env))
  // Whoever owns the embedded database is alone: every unfinished import belongs to a dead process.
  const now = new Date()
  await removeOldTempFiles(now)
  const deadBefore = opened.kind === 'embedded' ? now : deadImportsBefore(now)
  await failDeadImports(opened.db, deadBefore)
  await endDeadReplays(opened.db, deadBefore)
  await deleteStagedOfFailed(opened.db)
  return opened
}

async function openForServer(): Promise<OpenDatabase> {
  const opened = await openForWork()
  await summariseEarlierMonths(opened.db)
  await packEarlierMonths(opened.db)
  keepHouse(opened)
  await digestOldAnalyses(opened.db)
  // Figures of an earlier engine, or of a change whose turn never came, are brought up to date meanwhile.
  for (const { id } of await listMachines(opened.db))
    queueRefresh(opened.db, id).catch((error) => logFault(`refresh of machine ${id} failed`, error))
  return opened
}

/**
 * The database of this process, opened at the first call: tables brought up to date, dead imports marked.
 * @throws FolderInUseError where another process owns the embedded database's folder
 */
export async function database(): Promise<Database> {
  shared.tankwardDatabase ??= openForServer()
  const opening = shared.tankwardDatabase
  try {
    return (await opening).db
  } catch (error) {
    // The next request tries again: the other owner may have stopped meanwhile.
    if (shared.tankwardDatabase === opening) shared.tankwardDatabase = undefined
    throw error
  }
}

/** Uses an already open database, or none (tests and commands); what was open stays the caller's to close. */
export function setDatabase(opened: OpenDatabase | null): void {
  shared.tankwardDatabase = opened === null ? undefined : Promise.resolve(opened)
}
