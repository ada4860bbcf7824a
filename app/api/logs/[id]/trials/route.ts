import { ApiProblem } from '@/app/_server/api-problem'
import { database } from '@/app/_server/database'
import { said } from '@/app/_server/decide-measure'
import { needLog } from '@/app/_server/find-log'
import { newId } from '@/app/_server/new-id'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import { trialAnswers } from '@/app/_server/trial-answer'
import { insertTrial } from '@/db/queries/trials'
import { newTrialSchema } from '@/lib/contract/proof'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
}

/** Trials in a log, with what each shows. */
export const GET = route<Params>('read', async (_request, { id }) => {
  const db = await database()
  const { machineId } = await needLog(db, id)
  return json({ trials: await trialAnswers(db, machineId, ({ logId }) => logId === id) })
})

/** Says when a setting was changed by hand while it was logged. */
export const POST = route<Params>('write', async (request, { id }) => {
  const { atS, cycles, measureId, note, author } = await readJson(request, newTrialSchema)
  const db = await database()
  const { machineId, siteId, state, durationS } = await needLog(db, id)
  if (state !== 'done' || durationS === null) throw new ApiProblem('not-ready', { id, state })
  if (atS > durationS)
    throw new ApiProblem('bad-query', { name: 'atS', expected: `0 to ${durationS}`, actual: atS })
  const trial = { id: newId(), atS, cycles, measureId, note: said(note), author: said(author) }
  const row = await insertTrial(db, { machineId, logId: id, siteId, ...trial })
  const [answer] = await trialAnswers(db, machineId, (one) => one.id === row.id)
  return json(answer, { status: 201, headers: { Location: answer.url } })
})
