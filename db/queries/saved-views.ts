import { and, asc, eq, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import { type SavedViewRow, savedViews, type ViewPage } from '@/db/schema/saved-views'

export type NewSavedView = Pick<SavedViewRow, 'id' | 'page' | 'name' | 'query'>

/** A site's views of a page, by name. */
export async function listSavedViews(
  db: Database,
  siteId: string,
  page: ViewPage | null,
): Promise<SavedViewRow[]> {
  return db
    .select()
    .from(savedViews)
    .where(and(eq(savedViews.siteId, siteId), page ? eq(savedViews.page, page) : undefined))
    .orderBy(asc(savedViews.name), asc(savedViews.id))
}

/** Stores a view, in place of the one with its id: renames it, or brings a deleted one back. */
export async function saveView(db: Database, siteId: string, view: NewSavedView): Promise<SavedViewRow> {
  const { page, name, query } = view
  const [row] = await db
    .insert(savedViews)
    .values({ siteId, ...view })
    .onConflictDoUpdate({
      target: [savedViews.siteId, savedViews.id],
      set: { page, name, query, updatedAt: sql`now()` },
    })
    .returning()
  return row
}

/** False where there is no such view. */
export async function deleteView(db: Database, siteId: string, id: string): Promise<boolean> {
  const gone = await db
    .delete(savedViews)
    .where(and(eq(savedViews.siteId, siteId), eq(savedViews.id, id)))
    .returning({ id: savedViews.id })
  return gone.length > 0
}
