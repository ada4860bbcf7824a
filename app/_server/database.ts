import { type Database, type OpenDatabase, openDatabase, placeFromEnv } from '@/db/client'
import { failDeadImports } from '@/db/queries/logs'
import { deadImportsBefore } from './import-life'

// Next evaluates modules several times; the one handle lives where all of them see it.
const shared = globalThis as typeof globalThis & { tankwardDatabase?: Promise<OpenDatabase> }

async function open(): Promise<OpenDatabase> {
  const opened = await openDatabase(placeFromEnv(process.env))
  // Whoever owns the embedded database is alone: every unfinished import belongs to a dead process.
  const now = new Date()
  await failDeadImports(opened.db, opened.kind === 'embedded' ? now : deadImportsBefore(now))
  return opened
}

/**
 * The database of this process, opened at the first call: tables brought up to date, dead imports marked.
 * @throws FolderInUseError where another process owns the embedded database's folder
 */
export async function database(): Promise<Database> {
  shared.tankwardDatabase ??= open()
  try {
    return (await shared.tankwardDatabase).db
  } catch (error) {
    // The next request tries again: the other owner may have stopped meanwhile.
    shared.tankwardDatabase = undefined
    throw error
  }
}

/** Uses an already open database, or none (tests and commands); what was open stays the caller's to close. */
export function useDatabase(opened: OpenDatabase | null): void {
  shared.tankwardDatabase = opened === null ? undefined : Promise.resolve(opened)
}
