import { database } from '@/app/_server/database'
import { doToMonth, monthEvents } from '@/app/_server/month-events'
import { newMonthEventSchema } from '@/app/_server/month-shapes'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  month: string
}

/** What was done to a month, first to last. */
export const GET = route<Params>('read', async (_request, { month }) =>
  json(await monthEvents(await database(), month)),
)

/** Closes a month, so that its figures stay as they are, or opens it again for a reason. */
export const POST = route<Params>('write', async (request, { month }) => {
  const event = await readJson(request, newMonthEventSchema)
  return json(await doToMonth(await database(), month, event, new Date()), { status: 201 })
})
