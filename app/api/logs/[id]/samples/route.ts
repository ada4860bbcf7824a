import { database } from '@/app/_server/database'
import { needLog } from '@/app/_server/find-log'
import { readSamples } from '@/app/_server/read-samples'
import { json, route } from '@/app/_server/route'
import { samplesQuery } from '@/app/_server/samples-query'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
}

/** The envelope of any stretch of a log's channels, at any zoom. */
export const GET = route<Params>('read', async (request, { id }) => {
  const query = samplesQuery(new URL(request.url).searchParams)
  const db = await database()
  return json(await readSamples(db, await needLog(db, id), query))
})
