import type { Database } from '@/db/client'
import { findAnalysis } from '@/db/queries/analyses'
import { findLog, type LogKey } from '@/db/queries/logs'
import type { AuditedLog } from '@/db/queries/views-report'

/** What an auditor asks of one log; null where it is gone. */
export async function findAnalysisFacts(
  db: Database,
  key: LogKey,
  machineName: string,
): Promise<AuditedLog | null> {
  const log = await findLog(db, key.logId)
  const found = await findAnalysis(db, key)
  if (!log || !found) return null
  const { engineVersion, computedAt, analysis } = found
  return {
    ...log,
    machineName,
    engineVersion,
    computedAt,
    problems: [...analysis.log.problems],
    model: analysis.model,
  }
}
