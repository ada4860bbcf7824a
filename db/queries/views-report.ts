import { and, asc, eq, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import { analyses } from '@/db/schema/analyses'
import { type LogRow, logs } from '@/db/schema/logs'
import { machines } from '@/db/schema/machines'
import { monthDigests } from '@/db/schema/month-digests'
import type { Analysis, Problem } from '@/lib/contract/result'

export type AuditedLog = Pick<
  LogRow,
  | 'machineId'
  | 'id'
  | 'fileName'
  | 'sha256'
  | 'startedAt'
  | 'durationS'
  | 'sampleIntervalS'
  | 'rowsRead'
  | 'rowsUsed'
  | 'rowsRejected'
  | 'channels'
  | 'report'
> & {
  readonly machineName: string
  readonly engineVersion: number
  readonly computedAt: Date
  readonly problems: Problem[]
  readonly model: Analysis['model']
}

/** The recordings a month stands on, with what an auditor asks of them. */
export async function listAuditedLogs(db: Database, siteId: string, month: string): Promise<AuditedLog[]> {
  return db
    .select({
      machineId: logs.machineId,
      id: logs.id,
      machineName: machines.name,
      fileName: logs.fileName,
      sha256: logs.sha256,
      startedAt: logs.startedAt,
      durationS: logs.durationS,
      sampleIntervalS: logs.sampleIntervalS,
      rowsRead: logs.rowsRead,
      rowsUsed: logs.rowsUsed,
      rowsRejected: logs.rowsRejected,
      channels: logs.channels,
      report: logs.report,
      engineVersion: analyses.engineVersion,
      computedAt: analyses.computedAt,
      problems: sql<Problem[]>`coalesce(${analyses.analysis} #> '{log,problems}', '[]'::jsonb)`,
      model: sql<Analysis['model']>`${analyses.analysis} -> 'model'`,
    })
    .from(monthDigests)
    .innerJoin(logs, and(eq(logs.machineId, monthDigests.machineId), eq(logs.id, monthDigests.logId)))
    .innerJoin(machines, eq(machines.id, logs.machineId))
    .innerJoin(analyses, and(eq(analyses.machineId, logs.machineId), eq(analyses.logId, logs.id)))
    .where(and(eq(monthDigests.siteId, siteId), eq(monthDigests.month, month)))
    .orderBy(asc(machines.name), asc(logs.startedAt))
}
