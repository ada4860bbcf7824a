import { changeSumAnswer } from '@/app/_server/change-sum-answer'
import { database } from '@/app/_server/database'
import { json, route } from '@/app/_server/route'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  month: string
}

/** The change of waste over all machines with its interval, and what each machine adds to both. */
export const GET = route<Params>('read', async (request, { month }) =>
  json(await changeSumAnswer(await database(), month, new URL(request.url).searchParams)),
)
