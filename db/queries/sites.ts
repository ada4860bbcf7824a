import { desc, eq, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import { type SiteVersionRow, siteVersions } from '@/db/schema/site-versions'
import { type SiteRow, sites } from '@/db/schema/sites'
import { type Site, siteSchema } from '@/lib/contract/site'

/** The site everything belongs to until there are several. */
export const DEFAULT_SITE_ID = 'site'

/** Makes the default site with the stated defaults where there is none yet. */
export async function ensureDefaultSite(db: Database): Promise<void> {
  await db
    .insert(sites)
    .values({ id: DEFAULT_SITE_ID, settings: siteSchema.parse({}) })
    .onConflictDoNothing()
}

export async function findSite(db: Database, id = DEFAULT_SITE_ID): Promise<SiteRow | null> {
  const [row] = await db.select().from(sites).where(eq(sites.id, id))
  return row ?? null
}

/** The site's settings; throws where the site is unknown. */
export async function siteSettings(db: Database, id = DEFAULT_SITE_ID): Promise<Site> {
  const row = await findSite(db, id)
  if (!row) throw new Error(`no site ${id}`)
  // Read through the schema: settings stored before a field existed get its stated default.
  return siteSchema.parse(row.settings)
}

/** Who changed a site's settings, and why. */
export type SiteChange = Pick<SiteVersionRow, 'author' | 'reason' | 'correctsPast'>
const UNSAID: SiteChange = { author: null, reason: null, correctsPast: false }

/** Stores a site's settings and keeps them in its history; what it was before the first change is kept too. */
export async function saveSite(
  db: Database,
  settings: Site,
  id = DEFAULT_SITE_ID,
  change: SiteChange = UNSAID,
): Promise<void> {
  await db.transaction(async (tx) => {
    const before = await findSite(tx, id)
    await tx
      .insert(sites)
      .values({ id, settings })
      .onConflictDoUpdate({ target: sites.id, set: { settings, updatedAt: sql`now()` } })
    const [latest] = await listSiteVersions(tx, id, 1)
    const first = latest?.number ?? 0
    const unkept = !latest && before ? [{ settings: before.settings, at: before.updatedAt, ...UNSAID }] : []
    const versions = [...unkept, { settings, at: new Date(), ...change }]
    await tx
      .insert(siteVersions)
      .values(versions.map((version, i) => ({ ...version, siteId: id, number: first + i + 1 })))
  })
}

/** The latest states of a site's settings, latest first. */
export async function listSiteVersions(
  db: Database,
  id = DEFAULT_SITE_ID,
  most = 50,
): Promise<SiteVersionRow[]> {
  return db
    .select()
    .from(siteVersions)
    .where(eq(siteVersions.siteId, id))
    .orderBy(desc(siteVersions.number))
    .limit(most)
}
