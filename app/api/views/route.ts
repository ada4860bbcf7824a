import { database } from '@/app/_server/database'
import { json, route } from '@/app/_server/route'
import { savedViewsOf } from '@/app/_server/views/saved-views'

export const dynamic = 'force-dynamic'

/** Views of all pages that somebody gave a name. */
export const GET = route('read', async () => json({ views: await savedViewsOf(await database(), null) }))
