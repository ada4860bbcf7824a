import { and, desc, eq, inArray, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import { type LayoutRow, layouts } from '@/db/schema/layouts'

export type NewLayout = Omit<LayoutRow, 'createdAt' | 'usedAt'>

/** A machine's remembered layouts, the latest first. */
export async function listLayouts(db: Database, machineId: string): Promise<LayoutRow[]> {
  return db
    .select()
    .from(layouts)
    .where(eq(layouts.machineId, machineId))
    .orderBy(desc(layouts.createdAt), desc(layouts.id))
}

const is = (machineId: string, id: string) => and(eq(layouts.machineId, machineId), eq(layouts.id, id))

export async function findLayout(db: Database, machineId: string, id: string): Promise<LayoutRow | null> {
  const [row] = await db.select().from(layouts).where(is(machineId, id))
  return row ?? null
}

/**
 * Remembers a layout in the place of earlier ones.
 * @param earlier ids of the machine's layouts that are the same one
 */
export async function saveLayout(
  db: Database,
  layout: NewLayout,
  earlier: readonly string[],
): Promise<LayoutRow> {
  return db.transaction(async (tx) => {
    if (earlier.length > 0)
      await tx
        .delete(layouts)
        .where(and(eq(layouts.machineId, layout.machineId), inArray(layouts.id, [...earlier])))
    const [made] = await tx.insert(layouts).values(layout).returning()
    return made
  })
}

/** Notes that a file was read by it. */
export async function touchLayout(db: Database, machineId: string, id: string): Promise<void> {
  await db.update(layouts).set({ usedAt: sql`now()` }).where(is(machineId, id))
}

/** Forgets a layout; false where the machine has no such one. */
export async function deleteLayout(db: Database, machineId: string, id: string): Promise<boolean> {
  const gone = await db.delete(layouts).where(is(machineId, id)).returning({ id: layouts.id })
  return gone.length > 0
}
