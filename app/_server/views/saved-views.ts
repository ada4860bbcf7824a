import { z } from 'zod'
import type { Database } from '@/db/client'
import { listSavedViews } from '@/db/queries/saved-views'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { VIEW_PAGES, type ViewPage } from '@/db/schema/saved-views'

const LONGEST_NAME = 80
const LONGEST_QUERY = 4000

/** A view as it is sent: a page's address with a name. */
export const newSavedViewSchema = z.object({
  page: z.enum(VIEW_PAGES),
  name: z.string().trim().min(1).max(LONGEST_NAME),
  /** What stands behind the question mark; empty for the page as it opens. */
  query: z.string().max(LONGEST_QUERY),
})

export const savedViewSchema = newSavedViewSchema.extend({ id: z.string() })
export type SavedView = z.infer<typeof savedViewSchema>

/** The views of a page that somebody gave a name. */
export async function savedViewsOf(db: Database, page: ViewPage | null): Promise<SavedView[]> {
  const rows = await listSavedViews(db, DEFAULT_SITE_ID, page)
  return rows.map(({ id, page: of, name, query }) => ({ id, page: of, name, query }))
}
