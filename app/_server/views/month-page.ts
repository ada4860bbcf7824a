import type { Database } from '@/db/client'
import { listMeasureHeads } from '@/db/queries/measures'
import { listMonthEvents } from '@/db/queries/month-events'
import { listMonths } from '@/db/queries/month-totals'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { countMonthLogs, type LogCounts } from '@/db/queries/views-quality'
import type { MonthEventRow } from '@/db/schema/month-events'
import { isSuspicious } from './is-suspicious'
import { monthColumns } from './month-columns'
import { type MachineReviewView, type MonthRead, readMonth, reviewsOf, unloggedOf } from './month-reviews'
import {
  asFrozen,
  closedMonth,
  closingOf,
  eventOf,
  type FrozenMonth,
  type MonthView,
  measureOf,
  neighbours,
} from './month-view'
import type { MonthColumns } from './shown-machines'

/** The review of a month as its page shows it at first; the rest is asked for where it is opened. */
export interface MonthPage
  extends Pick<
    MonthView,
    'month' | 'previous' | 'next' | 'site' | 'unlogged' | 'measures' | 'events' | 'closed'
  > {
  readonly columns: MonthColumns
  readonly quality: MonthQuality
}

/** How far a month can be trusted, in counts. */
export interface MonthQuality extends LogCounts {
  readonly machines: number
  readonly thin: {
    readonly machines: number
    /** Those with the least coverage first, as many as are named. */
    readonly named: readonly { readonly name: string; readonly coverageShare: number }[]
    readonly leastShare: number
    readonly mostShare: number
  } | null
  /** Machines that were not logged as they are meant to run, and those of which no calendar says how that is. */
  readonly unlike: number
  readonly withoutCalendar: number
}

/** More machines than this are counted, not named. */
const MOST_NAMED = 3

/** Takes from each review what says how far a month can be trusted. */
class QualityTally {
  readonly #thin: { name: string; coverageShare: number }[] = []
  #machines = 0
  #unlike = 0
  #withoutCalendar = 0

  add({ name, review: { month, represents } }: MachineReviewView) {
    const { thinCoverage, coverageShare } = month
    this.#machines += 1
    if (thinCoverage) this.#thin.push({ name, coverageShare })
    if (represents.notes.some(({ code }) => code !== 'no-calendar')) this.#unlike += 1
    if (represents.notes.some(({ code }) => code === 'no-calendar')) this.#withoutCalendar += 1
  }

  result(counts: LogCounts): MonthQuality {
    const thin = this.#thin
    thin.sort((a, b) => a.coverageShare - b.coverageShare)
    return {
      ...counts,
      machines: this.#machines,
      thin:
        thin.length > 0
          ? {
              machines: thin.length,
              named: thin.length > MOST_NAMED ? [] : thin,
              leastShare: thin[0].coverageShare,
              mostShare: thin[thin.length - 1].coverageShare,
            }
          : null,
      unlike: this.#unlike,
      withoutCalendar: this.#withoutCalendar,
    }
  }
}

/** @param most machines there can be */
function shown(machines: Iterable<MachineReviewView>, most: number, counts: LogCounts) {
  const tally = new QualityTally()
  function* tallied() {
    for (const one of machines) {
      tally.add(one)
      yield one
    }
  }
  const columns = monthColumns(tallied(), most)
  return { columns, quality: tally.result(counts) }
}

/** What of today's month the page shows. */
const openMonth = (read: MonthRead, counts: LogCounts) => ({
  site: read.site,
  unlogged: unloggedOf(read),
  ...shown(reviewsOf(read), read.known.length, counts),
})

/** The same of a month as it was closed, and what has come since. */
function frozenMonth(closing: MonthEventRow, read: MonthRead) {
  const frozen = asFrozen(closing.frozen as FrozenMonth)
  const { site, unlogged, machines } = frozen
  const logs = machines.flatMap((one) => one.logs)
  const counts = {
    logs: logs.length,
    suspicious: logs.filter(isSuspicious).length,
    replaying: logs.filter((log) => log.isReplaying).length,
  }
  const closed = closedMonth(closing, frozen, { machines: [...reviewsOf(read)] })
  return { site, unlogged, closed, ...shown(machines, machines.length, counts) }
}

export async function monthPage(db: Database, month: string): Promise<MonthPage> {
  const [months, read, counts, events, closing, measures] = await Promise.all([
    listMonths(db, DEFAULT_SITE_ID),
    readMonth(db, month),
    countMonthLogs(db, DEFAULT_SITE_ID, month),
    listMonthEvents(db, DEFAULT_SITE_ID, month),
    closingOf(db, month),
    listMeasureHeads(db, DEFAULT_SITE_ID),
  ])
  return {
    month,
    ...neighbours(months, month),
    ...(closing ? frozenMonth(closing, read) : { ...openMonth(read, counts), closed: null }),
    measures: measures.map(measureOf),
    events: events.map(eventOf),
  }
}
