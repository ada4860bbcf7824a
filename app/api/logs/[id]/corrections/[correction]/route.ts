import { logFault } from '@/app/_jobs/log-fault'
import { queueRefresh } from '@/app/_jobs/queue'
import { ApiProblem } from '@/app/_server/api-problem'
import { database } from '@/app/_server/database'
import { needLog } from '@/app/_server/find-log'
import { route } from '@/app/_server/route'
import { deleteCorrection } from '@/db/queries/corrections'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
  correction: string
}

/** Takes a correction back; the log's figures are brought up to date after the answer. */
export const DELETE = route<Params>('write', async (_request, { id, correction }) => {
  const db = await database()
  const { machineId } = await needLog(db, id)
  const isGone =
    !correction.includes('\0') && (await deleteCorrection(db, { machineId, logId: id }, correction))
  if (!isGone) throw new ApiProblem('unknown-correction', { id, correction })
  queueRefresh(db, machineId).catch((error) => logFault(`refresh of log ${id} failed`, error))
  return new Response(null, { status: 204 })
})
