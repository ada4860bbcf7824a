import { setImmediate as nextTurn } from 'node:timers/promises'
import { and, eq, inArray, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { envelopeChunks } from '@/db/schema/envelope-chunks'
import { logFiles } from '@/db/schema/log-files'
import { logs } from '@/db/schema/logs'
import { sampleChunks } from '@/db/schema/sample-chunks'

/**
 * An import writes a log's file, samples and envelope while it goes on. They are no log until its row says `done`:
 * nobody reads them before, and they go where it fails.
 */
const STAGED = [logFiles, sampleChunks, envelopeChunks]

/** How many rows there are of each kind. */
export interface StagedCounts {
  readonly pieces: number
  readonly samples: number
  readonly envelope: number
}

export async function countStaged(db: Database, key: LogKey): Promise<StagedCounts> {
  const [pieces, samples, envelope] = await Promise.all(
    STAGED.map((table) =>
      db.$count(table, and(eq(table.machineId, key.machineId), eq(table.logId, key.logId))),
    ),
  )
  return { pieces, samples, envelope }
}

/** Rows a statement: the embedded database works in the thread that serves pages, and a long log has tens of thousands. */
const ROWS_A_STATEMENT = 100

/** Deletes what an import has written of a log that is not stored, with turns for others in between. */
export async function deleteStaged(db: Database, key: LogKey): Promise<void> {
  for (const table of STAGED) {
    const some = db
      .select({ place: sql`ctid` })
      .from(table)
      .where(and(eq(table.machineId, key.machineId), eq(table.logId, key.logId)))
      .limit(ROWS_A_STATEMENT)
    for (let count = ROWS_A_STATEMENT; count === ROWS_A_STATEMENT; await nextTurn()) {
      const gone = await db
        .delete(table)
        .where(sql`ctid = any(array(${some}))`)
        .returning({ of: table.logId })
      count = gone.length
    }
  }
}

/** The same for every failed log: imports whose process died cannot do it themselves. */
export async function deleteStagedOfFailed(db: Database): Promise<void> {
  const failed = db.select({ id: logs.id }).from(logs).where(eq(logs.state, 'failed'))
  for (const table of STAGED) {
    // Looked for first: there is next to never any, and a scan of all chunks would take long.
    const [left] = await db
      .select({ one: sql<number>`1` })
      .from(logs)
      .where(
        and(
          eq(logs.state, 'failed'),
          sql`exists (select 1 from ${table} where ${table.machineId} = ${logs.machineId} and ${table.logId} = ${logs.id})`,
        ),
      )
      .limit(1)
    if (left) await db.delete(table).where(inArray(table.logId, failed))
  }
}
