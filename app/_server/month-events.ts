import type { z } from 'zod'
import type { Database } from '@/db/client'
import { addMonthEvent, listMonthEvents } from '@/db/queries/month-events'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { ApiProblem } from './api-problem'
import { needMonth } from './month-answer'
import type { monthEventsSchema, newMonthEventSchema } from './month-shapes'
import { eventOf, monthAsStored } from './views/month-view'

type MonthEvents = z.infer<typeof monthEventsSchema>

export async function monthEvents(db: Database, month: string): Promise<MonthEvents> {
  needMonth(month)
  const events = await listMonthEvents(db, DEFAULT_SITE_ID, month)
  return {
    month,
    closed: events.at(-1)?.action === 'closed',
    events: events.map(eventOf),
  }
}

/**
 * Closes a month with the figures it has now, or opens it again.
 * @throws ApiProblem `bad-query`, `month-without-data`, `month-closed-already`, `month-not-closed`
 */
export async function doToMonth(
  db: Database,
  month: string,
  { action, author, note }: z.infer<typeof newMonthEventSchema>,
  at: Date,
): Promise<MonthEvents> {
  needMonth(month)
  const events = await listMonthEvents(db, DEFAULT_SITE_ID, month)
  const isClosed = events.at(-1)?.action === 'closed'
  if (action === 'closed' && isClosed) throw new ApiProblem('month-closed-already', { month })
  if (action === 'reopened' && !isClosed) throw new ApiProblem('month-not-closed', { month })
  const figures = action === 'closed' ? await monthAsStored(db, month) : null
  if (figures?.machines.length === 0) throw new ApiProblem('month-without-data', { month })
  const number = events.length + 1
  const event = { siteId: DEFAULT_SITE_ID, month, number, action, author, note, frozen: figures, at }
  // Somebody else was quicker: their word stands, and is what the next look shows.
  if (!(await addMonthEvent(db, event)))
    throw new ApiProblem(action === 'closed' ? 'month-closed-already' : 'month-not-closed', { month })
  return monthEvents(db, month)
}
