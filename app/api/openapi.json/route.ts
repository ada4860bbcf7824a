import { openApi } from '@/app/_server/openapi'
import { json, route } from '@/app/_server/route'

export const dynamic = 'force-dynamic'

/** The description of this interface. */
export const GET = route('read', async () => json(openApi()))
