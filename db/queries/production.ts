import { and, eq, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { logProduction } from '@/db/schema/log-production'

export type Production = Pick<typeof logProduction.$inferSelect, 'logId' | 'pieces' | 'note' | 'author'>

/** Pieces made while a machine's logs ran, where somebody counted them. */
export async function listProduction(db: Database, machineId: string): Promise<Production[]> {
  const { logId, pieces, note, author } = logProduction
  return db
    .select({ logId, pieces, note, author })
    .from(logProduction)
    .where(eq(logProduction.machineId, machineId))
}

/** Says how many pieces were made while a log ran, in the place of what was said before. */
export async function saveProduction(
  db: Database,
  key: LogKey & { readonly siteId: string },
  said: Omit<Production, 'logId'>,
): Promise<void> {
  await db
    .insert(logProduction)
    .values({ ...key, ...said })
    .onConflictDoUpdate({
      target: [logProduction.machineId, logProduction.logId],
      set: { ...said, updatedAt: sql`now()` },
    })
}

/** Takes it back; false where nothing was said. */
export async function deleteProduction(db: Database, key: LogKey): Promise<boolean> {
  const gone = await db
    .delete(logProduction)
    .where(and(eq(logProduction.machineId, key.machineId), eq(logProduction.logId, key.logId)))
    .returning({ logId: logProduction.logId })
  return gone.length > 0
}
