import { ApiProblem } from '@/app/_server/api-problem'
import { database } from '@/app/_server/database'
import { needLog } from '@/app/_server/find-log'
import { route } from '@/app/_server/route'
import { deleteTrial } from '@/db/queries/trials'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
  trial: string
}

export const DELETE = route<Params>('write', async (_request, { id, trial }) => {
  const db = await database()
  const { machineId } = await needLog(db, id)
  if (!(await deleteTrial(db, { machineId, logId: id }, trial)))
    throw new ApiProblem('unknown-trial', { id, trial })
  return new Response(null, { status: 204 })
})
