import { database } from '@/app/_server/database'
import { explainAnswer } from '@/app/_server/explain-answer'
import { needLog } from '@/app/_server/find-log'
import { json, route } from '@/app/_server/route'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
}

/** How a figure of a log was reached: formula, inputs, sensors, defaults and the parts of its interval. */
export const GET = route<Params>('read', async (request, { id }) => {
  const figure = new URL(request.url).searchParams.get('figure')
  const db = await database()
  return json(await explainAnswer(db, await needLog(db, id), figure))
})
