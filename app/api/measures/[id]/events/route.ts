import { database } from '@/app/_server/database'
import { stepMeasure } from '@/app/_server/decide-measure'
import { measureAnswer, needMeasure } from '@/app/_server/measure-answer'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import { newEventSchema } from '@/lib/contract/measure'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
}

/** Takes a measure a step on, or back by a further step; `verified` freezes the proof. */
export const POST = route<Params>('write', async (request, { id }) => {
  const event = await readJson(request, newEventSchema)
  const db = await database()
  await stepMeasure(db, await needMeasure(db, id), event)
  return json(await measureAnswer(db, await needMeasure(db, id)), { status: 201 })
})
