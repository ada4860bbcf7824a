import { changeAnswer } from '@/app/_server/change-answer'
import { database } from '@/app/_server/database'
import { json, route } from '@/app/_server/route'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  month: string
}

/** What the change of a figure was split from. */
export const GET = route<Params>('read', async (request, { month }) =>
  json(await changeAnswer(await database(), month, new URL(request.url).searchParams)),
)
