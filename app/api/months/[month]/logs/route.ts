import { database } from '@/app/_server/database'
import { monthLogs } from '@/app/_server/month-logs-answer'
import { json, route } from '@/app/_server/route'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  month: string
}

/** The logs that a month stands on, by machine. */
export const GET = route<Params>('read', async (_request, { month }) =>
  json(await monthLogs(await database(), month)),
)
