import type { Database } from '@/db/client'
import { listMachines } from '@/db/queries/machines'
import { listMonthEvents } from '@/db/queries/month-events'
import { listMonthTotals } from '@/db/queries/month-totals'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { ApiProblem } from './api-problem'
import type { MonthAnswer } from './shapes'
import { groupBy } from './views/group-by'
import { isMonth } from './views/month-names'
import { type MonthReviews, monthReviews } from './views/month-reviews'
import { closingOf, eventOf } from './views/month-view'

/** @throws ApiProblem `bad-query` where this names no month */
export function needMonth(month: string): string {
  if (!isMonth(month))
    throw new ApiProblem('bad-query', { name: 'month', expected: 'YYYY-MM', actual: month })
  return month
}

/**
 * A month by machine: what was measured, scaled to planned hours, how sure and what changed, and the numerators. Of a
 * closed month the figures are those of its closing, the numerators today's.
 */
export async function monthAnswer(db: Database, month: string): Promise<MonthAnswer> {
  needMonth(month)
  const [events, closing, all, known] = await Promise.all([
    listMonthEvents(db, DEFAULT_SITE_ID, month),
    closingOf(db, month),
    listMonthTotals(db, DEFAULT_SITE_ID, month),
    listMachines(db),
  ])
  const figures = closing ? (closing.frozen as MonthReviews) : await monthReviews(db, month)
  const reviews = new Map(figures.machines.map(({ machineId, review }) => [machineId, review]))
  const rowsOf = groupBy(all, ({ machineId }) => machineId)
  const machines = known.map(({ id, name, line, trade }) => {
    const own = rowsOf.get(id) ?? []
    const rows = own.map(({ machineId: _, siteId: __, month: ___, ...row }) => row)
    const review = reviews.get(id)
    if (!review) return { machineId: id, name, line, trade, summary: null, review: null, rows }
    const { month: summary, ...rest } = review
    return { machineId: id, name, line, trade, summary, review: rest, rows }
  })
  const { timeZone, currency } = figures.site
  return {
    month,
    timeZone,
    currency,
    closed: closing !== null,
    events: events.map(eventOf),
    machines,
  }
}
