import { ApiProblem } from '@/app/_server/api-problem'
import { database } from '@/app/_server/database'
import { decideMeasure } from '@/app/_server/decide-measure'
import { measureAnswer, measureSummary, needMeasure } from '@/app/_server/measure-answer'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import { listMeasures } from '@/db/queries/measures'
import { MEASURE_STATES, newMeasureSchema } from '@/lib/contract/measure'

export const dynamic = 'force-dynamic'

/** Measures, those touched last first; `state`, `machine` and `owner` narrow them. */
export const GET = route('read', async (request) => {
  const asked = new URL(request.url).searchParams
  const wanted = asked.get('state')
  const state = MEASURE_STATES.find((one) => one === wanted) ?? null
  if (wanted && !state)
    throw new ApiProblem('bad-query', { name: 'state', expected: MEASURE_STATES.join(', '), actual: wanted })
  const filter = { state, machineId: asked.get('machine'), owner: asked.get('owner') }
  return json({ measures: (await listMeasures(await database(), filter)).map(measureSummary) })
})

/** Turns an option of a log's result, or a person's own idea, into a measure. */
export const POST = route('write', async (request) => {
  const wanted = await readJson(request, newMeasureSchema)
  const db = await database()
  const answer = await measureAnswer(db, await needMeasure(db, await decideMeasure(db, wanted)))
  return json(answer, { status: 201, headers: { Location: answer.url } })
})
