import { database } from '@/app/_server/database'
import { said } from '@/app/_server/decide-measure'
import { localDay } from '@/app/_server/local-day'
import { measureAnswer, needMeasure } from '@/app/_server/measure-answer'
import { newId } from '@/app/_server/new-id'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import { insertMeasureQuote } from '@/db/queries/measures'
import { siteSettings } from '@/db/queries/sites'
import { newQuoteSchema } from '@/lib/contract/measure'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
}

/** Keeps what somebody offered to do it for, in the site's currency. */
export const POST = route<Params>('write', async (request, { id }) => {
  const { text, amount, on } = await readJson(request, newQuoteSchema)
  const db = await database()
  const { machineId, siteId } = await needMeasure(db, id)
  const { currency, timeZone } = await siteSettings(db, siteId)
  await insertMeasureQuote(db, {
    machineId,
    measureId: id,
    siteId,
    id: newId(),
    text: said(text) ?? '',
    amount,
    currency,
    on: on ?? localDay(new Date(), timeZone),
  })
  return json(await measureAnswer(db, await needMeasure(db, id)), { status: 201 })
})
