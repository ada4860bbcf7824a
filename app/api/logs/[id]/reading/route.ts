import { logFault } from '@/app/_jobs/log-fault'
import { queueRefresh } from '@/app/_jobs/queue'
import { storable } from '@/app/_jobs/storable'
import { ApiProblem } from '@/app/_server/api-problem'
import { checkReading } from '@/app/_server/asked-reading'
import { database } from '@/app/_server/database'
import { needLog } from '@/app/_server/find-log'
import { logState } from '@/app/_server/log-answer'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import { setLogReading } from '@/db/queries/logs'
import { readingSchema } from '@/lib/contract/reading'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
}

/** Says anew how a stored log's file is to be read; the original is read again after the answer. */
export const PUT = route<Params>('write', async (request, { id }) => {
  const reading = checkReading(storable(await readJson(request, readingSchema)))
  const db = await database()
  const { machineId, state } = await needLog(db, id)
  const said = Object.keys(reading).length > 0 ? { reading, remembered: null } : null
  if (!(await setLogReading(db, { machineId, logId: id }, said)))
    throw new ApiProblem('not-ready', { id, state })
  queueRefresh(db, machineId).catch((error) => logFault(`refresh of machine ${machineId} failed`, error))
  return json(logState(await needLog(db, id)))
})
