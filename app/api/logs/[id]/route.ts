import { database } from '@/app/_server/database'
import { needLog } from '@/app/_server/find-log'
import { logAnswer } from '@/app/_server/log-answer'
import { json, route } from '@/app/_server/route'
import { deleteLog } from '@/db/queries/logs'

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
  await deleteLog(db, { machineId: row.machineId, logId: row.id })
  return new Response(null, { status: 204 })
})
