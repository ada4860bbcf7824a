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

const PARSED_KEPT = 8
const parsedSites = new Map<string, Site>()

/**
 * Settings as an object, the same one for the same settings: what calendars make of a month is remembered by it
 * (`lib/economics/by-site.ts`). They are read with every request; whoever changes them, the text is another.
 */
function parsed(settings: string): Site {
  const known = parsedSites.get(settings)
  if (known) return known
  // Read through the schema: settings stored before a field existed get its stated default.
  const site = siteSchema.parse(JSON.parse(settings))
  if (parsedSites.size >= PARSED_KEPT) parsedSites.clear()
  parsedSites.set(settings, site)
  return site
}

/** The site's settings, never to be changed in place; throws where the site is unknown. */
export async function siteSettings(db: Database, id = DEFAULT_SITE_ID): Promise<Site> {
  const row = await findSite(db, id)
  if (!row) throw new Error(`no site ${id}`)
  return parsed(JSON.stringify(row.settings))
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
