import type { Database } from '@/db/client'
import { findLog } from '@/db/queries/logs'
import { findMachine } from '@/db/queries/machines'
import type { LogRow } from '@/db/schema/logs'
import type { MachineRow } from '@/db/schema/machines'
import { ApiProblem } from './api-problem'

/** The log, or an ApiProblem `unknown-log`. */
export async function needLog(db: Database, id: string): Promise<LogRow> {
  const row = id.includes('\0') ? null : await findLog(db, id)
  if (!row) throw new ApiProblem('unknown-log', { id })
  return row
}

/** The machine, or an ApiProblem `unknown-machine`. */
export async function needMachine(db: Database, id: string): Promise<MachineRow> {
  const row = id.includes('\0') ? null : await findMachine(db, id)
  if (!row) throw new ApiProblem('unknown-machine', { id })
  return row
}
