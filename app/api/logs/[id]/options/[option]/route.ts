import { database } from '@/app/_server/database'
import { needLog } from '@/app/_server/find-log'
import { liveAnswer } from '@/app/_server/live-answer'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import { movedSettingsSchema } from '@/app/_server/shapes'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
  option: string
}

/** What an option would do with other settings; nothing is stored, so the right to read is enough. */
export const POST = route<Params>('read', async (request, { id, option }) => {
  const { settings } = await readJson(request, movedSettingsSchema)
  const db = await database()
  const answer = await liveAnswer(db, await needLog(db, id), option, settings)
  return answer.state === 'replayed'
    ? json(answer)
    : json(answer, { status: 202, headers: { 'Retry-After': '1' } })
})
