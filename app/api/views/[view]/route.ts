import { ApiProblem } from '@/app/_server/api-problem'
import { database } from '@/app/_server/database'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import { newSavedViewSchema } from '@/app/_server/views/saved-views'
import { deleteView, saveView } from '@/db/queries/saved-views'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  view: string
}

/** Stores a view under an id of the sender's choice: the same again renames it, or brings it back. */
export const PUT = route<Params>('write', async (request, { view: id }) => {
  const sent = await readJson(request, newSavedViewSchema)
  const { page, name, query } = await saveView(await database(), DEFAULT_SITE_ID, { id, ...sent })
  return json({ id, page, name, query })
})

export const DELETE = route<Params>('write', async (_request, { view: id }) => {
  if (!(await deleteView(await database(), DEFAULT_SITE_ID, id))) throw new ApiProblem('unknown-view', { id })
  return new Response(null, { status: 204 })
})
