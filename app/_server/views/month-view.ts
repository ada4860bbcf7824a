import type { Database } from '@/db/client'
import { listMeasureHeads, type MeasureHead } from '@/db/queries/measures'
import { lastMonthEvent, listMonthEvents, type MonthEventFacts } from '@/db/queries/month-events'
import { listMonths } from '@/db/queries/month-totals'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import type { MonthEventRow } from '@/db/schema/month-events'
import type { Site } from '@/lib/contract/site'
import { verdictSentence } from '../proof-sentences'
import { frozenDifferences, type MonthDifference } from './month-differences'
import { logsByMachine, type QualityView } from './month-logs'
import { type MachineReviewView, type MonthReviews, monthReviews } from './month-reviews'

export interface MachineMonthView extends MachineReviewView {
  readonly logs: readonly QualityView[]
}

export interface MonthView {
  readonly month: string
  readonly previous: string | null
  readonly next: string | null
  readonly site: Site
  readonly machines: readonly MachineMonthView[]
  /** Machines without a log in this month. */
  readonly unlogged: readonly { readonly id: string; readonly name: string }[]
  readonly measures: readonly MeasureOfMonth[]
  /** What was done to the month, first to last. */
  readonly events: readonly MonthEventView[]
  /** Set where the month is closed: the figures are those of its closing. */
  readonly closed: ClosedMonth | null
}

export type MeasureOfMonth = Omit<MeasureHead, 'proof'> & {
  /** The verdict of its proof in words, as frozen when it was verified; null where nothing is proven yet. */
  readonly verdict: string | null
}

export interface MonthEventView {
  readonly action: MonthEventRow['action']
  readonly author: string
  readonly note: string | null
  readonly at: string
}

/** What is shown of a month that was closed, and what later imports would make of it. */
export interface ClosedMonth {
  readonly author: string
  readonly note: string | null
  readonly at: string
  readonly differences: readonly MonthDifference[]
}

/** What of a month is frozen when it is closed. */
export type FrozenMonth = Pick<MonthView, 'site' | 'machines' | 'unlogged'>

/** The latest month that holds anything, or null. */
export async function latestMonth(db: Database): Promise<string | null> {
  return (await listMonths(db, DEFAULT_SITE_ID))[0] ?? null
}

/** The figures of a month as today's logs and settings make them, with the logs. */
export async function monthAsStored(db: Database, month: string): Promise<FrozenMonth> {
  const [reviews, logs] = await Promise.all([monthReviews(db, month), logsByMachine(db, month)])
  const machines = reviews.machines.map((one) => ({ ...one, logs: logs.get(one.machineId) ?? [] }))
  return { ...reviews, machines }
}

export const measureOf = ({ proof, ...head }: MeasureHead): MeasureOfMonth => ({
  ...head,
  verdict: proof && verdictSentence(proof),
})

/** What was frozen before logs told how much was wrong with them told all of it. */
export function asFrozen(frozen: FrozenMonth): FrozenMonth {
  const counted = (log: QualityView) => ({
    ...log,
    problemCount: log.problemCount ?? log.problems?.length ?? null,
  })
  return { ...frozen, machines: frozen.machines.map((one) => ({ ...one, logs: one.logs.map(counted) })) }
}

/** The last thing done to a month, where that closed it. */
export async function closingOf(db: Database, month: string): Promise<MonthEventRow | null> {
  const last = await lastMonthEvent(db, DEFAULT_SITE_ID, month)
  return last?.action === 'closed' ? last : null
}

/** A month's neighbours among those that hold anything. @param months latest first */
export function neighbours(months: readonly string[], month: string) {
  const at = months.indexOf(month)
  return {
    previous: months.find((one) => one < month) ?? null,
    next: months.slice(0, at < 0 ? months.length : at).findLast((one) => one > month) ?? null,
  }
}

/** What stands at the head of a closed month. */
export function closedMonth(
  closing: MonthEventRow,
  frozen: FrozenMonth,
  now: Pick<MonthReviews, 'machines'>,
): ClosedMonth {
  const { author, note, at } = closing
  return { author, note, at: at.toISOString(), differences: frozenDifferences(frozen, now) }
}

export const eventOf = ({ action, author, note, at }: MonthEventFacts): MonthEventView => ({
  action,
  author,
  note,
  at: at.toISOString(),
})

/** All of a month with every log: as it was closed, else as today's logs make it. */
export async function monthView(db: Database, month: string): Promise<MonthView> {
  const [months, now, events, closing, measures] = await Promise.all([
    listMonths(db, DEFAULT_SITE_ID),
    monthAsStored(db, month),
    listMonthEvents(db, DEFAULT_SITE_ID, month),
    closingOf(db, month),
    listMeasureHeads(db, DEFAULT_SITE_ID),
  ])
  const frozen = closing && asFrozen(closing.frozen as FrozenMonth)
  return {
    ...(frozen ?? now),
    month,
    ...neighbours(months, month),
    measures: measures.map(measureOf),
    events: events.map(eventOf),
    closed: closing && frozen && closedMonth(closing, frozen, now),
  }
}
