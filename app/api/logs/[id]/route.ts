import { logFault } from '@/app/_jobs/log-fault'
import { removeLog } from '@/app/_jobs/machine-months'
import { queueRefresh } from '@/app/_jobs/queue'
import { database } from '@/app/_server/database'
import { needLog } from '@/app/_server/find-log'
import { logAnswer } from '@/app/_server/log-answer'
import { json, route } from '@/app/_server/route'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
}

/** Where an import stands, and its result once it is done. */
export const GET = route<Params>('read', async (_request, { id }) => {
  const db = await database()
  return json(await logAnswer(db, await needLog(db, id)))
})

/** Undoes an import: the log, its file, samples, analysis and month totals go. */
export const DELETE = route<Params>('write', async (_request, { id }) => {
  const db = await database()
  const row = await needLog(db, id)
  await removeLog(db, { machineId: row.machineId, logId: row.id, siteId: row.siteId })
  // What it accounted for others of the same time account for now.
  queueRefresh(db, row.machineId).catch((error) =>
    logFault(`refresh of machine ${row.machineId} failed`, error),
  )
  return new Response(null, { status: 204 })
})
