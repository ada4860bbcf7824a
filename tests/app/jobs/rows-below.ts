import { eq, getTableName } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { analyses } from '@/db/schema/analyses'
import { envelopeChunks } from '@/db/schema/envelope-chunks'
import { logFiles } from '@/db/schema/log-files'
import { monthTotals } from '@/db/schema/month-totals'
import { sampleChunks } from '@/db/schema/sample-chunks'

const BELOW_A_LOG = [logFiles, sampleChunks, envelopeChunks, analyses, monthTotals]

/** Rows of a log in each table below it. */
export async function rowsBelow(db: Database, { logId }: LogKey): Promise<Record<string, number>> {
  const counts: Record<string, number> = {}
  for (const table of BELOW_A_LOG)
    counts[getTableName(table)] = await db.$count(table, eq(table.logId, logId))
  return counts
}

export const NOTHING = { log_files: 0, sample_chunks: 0, envelope_chunks: 0, analyses: 0, month_totals: 0 }
