import { database } from '@/app/_server/database'
import { said } from '@/app/_server/decide-measure'
import { measureAnswer, needMeasure } from '@/app/_server/measure-answer'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import { updateMeasure } from '@/db/queries/measures'
import { measureChangeSchema } from '@/lib/contract/measure'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
}

export const GET = route<Params>('read', async (_request, { id }) => {
  const db = await database()
  return json(await measureAnswer(db, await needMeasure(db, id)))
})

/** Writes owner, notes or the set-up of the proof anew; what is left out stays. */
export const PUT = route<Params>('write', async (request, { id }) => {
  const { owner, notes, setup } = await readJson(request, measureChangeSchema)
  const db = await database()
  const { machineId } = await needMeasure(db, id)
  await updateMeasure(
    db,
    { machineId, measureId: id },
    {
      ...(owner === undefined ? {} : { owner: said(owner) }),
      ...(notes === undefined ? {} : { notes: said(notes) }),
      ...(setup === undefined ? {} : { setup }),
    },
  )
  return json(await measureAnswer(db, await needMeasure(db, id)))
})
