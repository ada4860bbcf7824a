import { database } from '@/app/_server/database'
import { json, route } from '@/app/_server/route'
import { listSiteVersions } from '@/db/queries/sites'

export const dynamic = 'force-dynamic'

/** Every state of the settings, latest first: who set it, when and why, and whether past days cost otherwise by it. */
export const GET = route('read', async () => {
  const versions = await listSiteVersions(await database())
  return json({
    versions: versions.map(({ siteId: _, at, ...version }) => ({ ...version, at: at.toISOString() })),
  })
})
