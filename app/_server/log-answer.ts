import { describe } from '@/app/_words/describe'
import { errorWords } from '@/app/_words/errors'
import type { Database } from '@/db/client'
import { findAnalysis } from '@/db/queries/analyses'
import type { LogRow } from '@/db/schema/logs'

/** The state of a log, without what was computed of it. */
export function logState(row: LogRow) {
  const error = row.error && {
    ...row.error,
    ...errorWords(row.error),
  }
  return {
    id: row.id,
    machineId: row.machineId,
    fileName: row.fileName,
    ...(row.parts ? { files: row.parts } : {}),
    state: row.state,
    progress: row.progress,
    receivedAt: row.createdAt.toISOString(),
    reading: row.reading,
    url: `/api/logs/${row.id}`,
    ...(error ? { error } : {}),
  }
}

/** The state of a log and, when it is stored, the result as the command prints it. */
export async function logAnswer(db: Database, row: LogRow) {
  if (row.state !== 'done') return logState(row)
  const found = await findAnalysis(db, { machineId: row.machineId, logId: row.id })
  if (!found) return logState(row)
  const computed = { engineVersion: found.engineVersion, computedAt: found.computedAt.toISOString() }
  return { ...logState(row), ...computed, channelsStored: row.channels ?? [], ...describe(found.analysis) }
}
