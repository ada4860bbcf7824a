import { storable } from '@/app/_jobs/storable'
import type { Database } from '@/db/client'
import { insertLogEvidence } from '@/db/queries/log-evidence'
import type { LogEvidenceRow } from '@/db/schema/log-evidence'
import type { LogRow } from '@/db/schema/logs'
import { ApiProblem } from './api-problem'
import type { EvidenceAnswer, NewEvidence } from './evidence-shapes'
import { newId } from './new-id'

/**
 * Keeps what somebody hands in of a sensor beside a stored log; its import report stays as it was.
 * @throws ApiProblem `not-ready`, `unknown-sensor`
 */
export async function addEvidence(
  db: Database,
  { id: logId, machineId, siteId, state, report }: LogRow,
  { column, evidence, author }: NewEvidence,
): Promise<LogEvidenceRow> {
  if (state !== 'done' || !report) throw new ApiProblem('not-ready', { id: logId, state })
  const columns = report.channels.map((channel) => channel.column)
  if (!columns.includes(column)) {
    throw new ApiProblem('unknown-sensor', { id: logId, column, columns: columns.join(' | ') })
  }
  return insertLogEvidence(db, {
    machineId,
    logId,
    siteId,
    id: newId(),
    column,
    evidence: storable(evidence),
    author: storable(author),
  })
}

export function evidenceAnswer({ id, column, evidence, author, createdAt }: LogEvidenceRow): EvidenceAnswer {
  return { id, column, evidence, author, createdAt: createdAt.toISOString() }
}
