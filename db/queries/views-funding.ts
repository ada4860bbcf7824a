import { desc, inArray } from 'drizzle-orm'
import type { Database } from '@/db/client'
import { measureQuotes } from '@/db/schema/measure-quotes'

/** Amount of the latest quote of each of these measures that has any. */
export async function listLatestQuotes(
  db: Database,
  measureIds: readonly string[],
): Promise<Map<string, number>> {
  if (measureIds.length === 0) return new Map()
  const rows = await db
    .selectDistinctOn([measureQuotes.measureId], {
      measureId: measureQuotes.measureId,
      amount: measureQuotes.amount,
    })
    .from(measureQuotes)
    .where(inArray(measureQuotes.measureId, [...measureIds]))
    .orderBy(measureQuotes.measureId, desc(measureQuotes.on), desc(measureQuotes.createdAt))
  return new Map(rows.map(({ measureId, amount }) => [measureId, amount]))
}
