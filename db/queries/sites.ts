import { eq, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
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

export async function saveSite(db: Database, settings: Site, id = DEFAULT_SITE_ID): Promise<void> {
  await db
    .insert(sites)
    .values({ id, settings })
    .onConflictDoUpdate({ target: sites.id, set: { settings, updatedAt: sql`now()` } })
}
