import { and, asc, desc, eq, getTableColumns } from 'drizzle-orm'
import type { Database } from '@/db/client'
import { type MonthEventRow, monthEvents } from '@/db/schema/month-events'

export type MonthEventFacts = Omit<MonthEventRow, 'frozen'>

const isMonth = (siteId: string, month: string) =>
  and(eq(monthEvents.siteId, siteId), eq(monthEvents.month, month))

/** What was done to a month, first to last, without what was frozen by it. */
export async function listMonthEvents(
  db: Database,
  siteId: string,
  month: string,
): Promise<MonthEventFacts[]> {
  const { frozen: _, ...columns } = getTableColumns(monthEvents)
  return db.select(columns).from(monthEvents).where(isMonth(siteId, month)).orderBy(asc(monthEvents.number))
}

/** The last thing done to a month; null where nothing was. */
export async function lastMonthEvent(
  db: Database,
  siteId: string,
  month: string,
): Promise<MonthEventRow | null> {
  const [row] = await db
    .select()
    .from(monthEvents)
    .where(isMonth(siteId, month))
    .orderBy(desc(monthEvents.number))
    .limit(1)
  return row ?? null
}

/** Adds what is done to a month; false where somebody else did something first. */
export async function addMonthEvent(db: Database, event: MonthEventRow): Promise<boolean> {
  const made = await db
    .insert(monthEvents)
    .values(event)
    .onConflictDoNothing()
    .returning({ number: monthEvents.number })
  return made.length > 0
}
