import { database } from '@/app/_server/database'
import { monthAnswer } from '@/app/_server/month-answer'
import { json, route } from '@/app/_server/route'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  month: string
}

/** What a month's logs add up to, by machine. */
export const GET = route<Params>('read', async (_request, { month }) =>
  json(await monthAnswer(await database(), month)),
)
