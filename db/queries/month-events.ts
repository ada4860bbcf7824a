import { and, asc, eq } from 'drizzle-orm'
import type { Database } from '@/db/client'
import { type MonthEventRow, monthEvents } from '@/db/schema/month-events'

/** What was done to a month, first to last. */
export async function listMonthEvents(db: Database, siteId: string, month: string): Promise<MonthEventRow[]> {
  return db
    .select()
    .from(monthEvents)
    .where(and(eq(monthEvents.siteId, siteId), eq(monthEvents.month, month)))
    .orderBy(asc(monthEvents.number))
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
