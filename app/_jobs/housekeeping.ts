import type { OpenDatabase } from '@/db/client'
import { endDeadReplays, failDeadImports, touchLogs } from '@/db/queries/logs'
import { failDeadReports } from '@/db/queries/report-runs'
import { deleteStagedOfFailed } from '@/db/queries/staged-rows'
import { deadImportsBefore } from './heartbeat'
import { logFault } from './log-fault'
import { importingLogs, queueRefresh } from './queue'
import { queueDueReports } from './report-run'
import { removeOldTempFiles } from './temp-file'

const EVERY_MS = 60_000
/** A report that has not ended an hour after it began never will: its process died, or its browser hangs. */
const REPORT_PATIENCE_MS = 3_600_000
/** One that waits may stand behind large imports; after a day nobody is left who would make it. */
const WAITING_PATIENCE_MS = 24 * REPORT_PATIENCE_MS

/** Marks imports whose process died, this one's own never, replays the options they left out, and removes files that nobody comes back for. */
export async function keepHouseOnce({ db }: Pick<OpenDatabase, 'db'>, now: Date): Promise<void> {
  await removeOldTempFiles(now)
  // The embedded database holds up this thread while it works, so that a sign of life may be late.
  await touchLogs(db, importingLogs())
  await failDeadImports(db, deadImportsBefore(now))
  for (const machineId of await endDeadReplays(db, deadImportsBefore(now)))
    queueRefresh(db, machineId).catch((error) => logFault(`refresh of machine ${machineId} failed`, error))
  await deleteStagedOfFailed(db)
  await failDeadReports(db, {
    begunBefore: new Date(now.getTime() - REPORT_PATIENCE_MS),
    waitingSince: new Date(now.getTime() - WAITING_PATIENCE_MS),
  })
  await queueDueReports(db, now)
}

/** Keeps house as long as the process lives: another one that shares the database may die at any time. */
export function keepHouse(opened: OpenDatabase): void {
  setInterval(() => {
    keepHouseOnce(opened, new Date()).catch((error) => logFault('housekeeping failed', error))
  }, EVERY_MS).unref()
}
