import { database } from '@/app/_server/database'
import { said } from '@/app/_server/decide-measure'
import { needLog } from '@/app/_server/find-log'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import { deleteProduction, saveProduction } from '@/db/queries/production'
import { productionSchema } from '@/lib/contract/proof'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
}

/** Says how many pieces were made while the log ran, in the place of what was said before. */
export const PUT = route<Params>('write', async (request, { id }) => {
  const { pieces, note, author } = await readJson(request, productionSchema)
  const db = await database()
  const { machineId, siteId } = await needLog(db, id)
  const counted = { pieces, note: said(note), author: said(author) }
  await saveProduction(db, { machineId, logId: id, siteId }, counted)
  return json(counted)
})

/** Takes the count back. */
export const DELETE = route<Params>('write', async (_request, { id }) => {
  const db = await database()
  const { machineId } = await needLog(db, id)
  await deleteProduction(db, { machineId, logId: id })
  return new Response(null, { status: 204 })
})
