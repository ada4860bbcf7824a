import type { Database } from '@/db/client'
import { listMachines } from '@/db/queries/machines'
import { listMonthEvents } from '@/db/queries/month-events'
import { listMonthTotals } from '@/db/queries/month-totals'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { ApiProblem } from './api-problem'
import type { MonthAnswer } from './shapes'
import { isMonth } from './views/month-names'
import type { FrozenMonth } from './views/month-view'
import { monthAsStored } from './views/month-view'

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
  const events = await listMonthEvents(db, DEFAULT_SITE_ID, month)
  const last = events.at(-1)
  const isClosed = last?.action === 'closed'
  const figures = isClosed ? (last.frozen as FrozenMonth) : await monthAsStored(db, month)
  const all = await listMonthTotals(db, DEFAULT_SITE_ID, month)
  const reviews = new Map(figures.machines.map(({ machineId, review }) => [machineId, review]))
  const machines = (await listMachines(db)).map(({ id, name, line, trade }) => {
    const own = all.filter((row) => row.machineId === id)
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
    closed: isClosed,
    events: events.map(({ action, author, note, at }) => ({ action, author, note, at: at.toISOString() })),
    machines,
  }
}
