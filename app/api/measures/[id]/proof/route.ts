import { database } from '@/app/_server/database'
import { needMeasure, proofAnswer } from '@/app/_server/measure-answer'
import { proveMeasure } from '@/app/_server/prove-measure'
import { json, route } from '@/app/_server/route'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
}

/** The proof with the machine's logs as they are now. */
export const GET = route<Params>('read', async (_request, { id }) => {
  const db = await database()
  const { proof } = await proveMeasure(db, await needMeasure(db, id))
  return json(proofAnswer(proof))
})
