import { describeProblem } from '@/app/_words/describe'
import type { Database } from '@/db/client'
import { listLatestDigests } from '@/db/queries/log-digests'
import { listMachineMonths } from '@/db/queries/machine-months'
import { listMachines } from '@/db/queries/machines'
import { type ListedMeasure, listMeasures } from '@/db/queries/measures'
import { listBaselines } from '@/db/queries/month-baselines'
import { listMonthEvents } from '@/db/queries/month-events'
import { listMonths } from '@/db/queries/month-totals'
import { DEFAULT_SITE_ID, siteSettings } from '@/db/queries/sites'
import { listMonthQuality } from '@/db/queries/views-quality'
import type { BestOption } from '@/db/schema/log-digests'
import type { MonthEventRow } from '@/db/schema/month-events'
import type { Site } from '@/lib/contract/site'
import { type MachineReview, reviewMachine } from '@/lib/months/review'
import type { MonthSummary } from '@/lib/months/summary'
import { verdictSentence } from '../proof-sentences'
import { groupBy } from './group-by'
import { frozenDifferences, type MonthDifference } from './month-differences'
import { monthBefore, monthsBetween, yearBefore } from './month-names'

export interface MachineMonthView {
  readonly machineId: string
  readonly name: string
  readonly line: string | null
  readonly review: MachineReview
  readonly baseline: { readonly fromMonth: string; readonly untilMonth: string } | null
  readonly logs: readonly QualityView[]
  /** What to do first with it, from its latest log; null where no option saves. */
  readonly best: BestOption | null
}

export interface QualityView {
  readonly logId: string
  readonly fileName: string
  readonly startedAt: string | null
  readonly durationS: number | null
  readonly rowsRead: number | null
  readonly rowsRejected: number | null
  readonly modelTrusted: boolean
  readonly problems: readonly string[]
}

export interface MonthView {
  readonly month: string
  /** Months that hold anything, latest first. */
  readonly months: readonly string[]
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

export type MeasureOfMonth = Pick<
  ListedMeasure,
  'id' | 'machineId' | 'machineName' | 'optionId' | 'title' | 'state' | 'owner' | 'expected'
> &
  Pick<ListedMeasure['lastEvent'], 'on' | 'reason'> & {
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

/** The figures of a month as today's logs and settings make them. */
export async function monthAsStored(db: Database, month: string): Promise<FrozenMonth> {
  const site = await siteSettings(db)
  const known = await listMachines(db)
  const baselines = new Map((await listBaselines(db, DEFAULT_SITE_ID)).map((one) => [one.machineId, one]))
  const spans = [...baselines.values()].flatMap(({ fromMonth, untilMonth }) =>
    monthsBetween(fromMonth, untilMonth),
  )
  const previous = monthBefore(month)
  const wanted = [...new Set([month, previous, yearBefore(month), ...spans])]
  const rows = groupBy(await listMachineMonths(db, DEFAULT_SITE_ID, wanted), (row) => row.machineId)
  const quality = groupBy(await listMonthQuality(db, DEFAULT_SITE_ID, month), (log) => log.machineId)
  const bests = new Map(
    (await listLatestDigests(db, DEFAULT_SITE_ID)).map((one) => [one.machineId, one.best]),
  )
  const machines = known.flatMap(({ id, name, line }): MachineMonthView[] => {
    const own = new Map((rows.get(id) ?? []).map((row): [string, MonthSummary] => [row.month, row.summary]))
    const summary = own.get(month)
    if (!summary) return []
    const of = (months: readonly string[]) => {
      const found = months.flatMap((one) => {
        const held = own.get(one)
        return held ? [{ month: one, summary: held }] : []
      })
      return found.length > 0 ? { months: found } : null
    }
    const mark = baselines.get(id)
    const span = mark ? monthsBetween(mark.fromMonth, mark.untilMonth) : []
    const references = { previous: of([previous]), lastYear: of([yearBefore(month)]), baseline: of(span) }
    const review = reviewMachine(month, { id, name }, summary, references, site)
    const baseline =
      mark?.fromMonth && mark.untilMonth ? { fromMonth: mark.fromMonth, untilMonth: mark.untilMonth } : null
    const logs = (quality.get(id) ?? []).map(
      (log): QualityView => ({
        logId: log.logId,
        fileName: log.fileName,
        startedAt: log.startedAt?.toISOString() ?? null,
        durationS: log.durationS,
        rowsRead: log.rowsRead,
        rowsRejected: log.rowsRejected,
        modelTrusted: log.modelTrusted,
        problems: log.problems.map((problem) => describeProblem(problem).message),
      }),
    )
    return [{ machineId: id, name, line, review, baseline, logs, best: bests.get(id) ?? null }]
  })
  const held = new Set(machines.map(({ machineId }) => machineId))
  return {
    site,
    machines,
    unlogged: known.filter(({ id }) => !held.has(id)).map(({ id, name }) => ({ id, name })),
  }
}

function measureOf({ lastEvent, ...measure }: ListedMeasure): MeasureOfMonth {
  const { id, machineId, machineName, optionId, title, state, owner, expected } = measure
  const { on, reason, proof } = lastEvent
  const verdict = proof && verdictSentence(proof)
  return { id, machineId, machineName, optionId, title, state, owner, expected, on, reason, verdict }
}

/** The last thing done to a month, where that closed it. */
export async function closingOf(db: Database, month: string): Promise<MonthEventRow | null> {
  const last = (await listMonthEvents(db, DEFAULT_SITE_ID, month)).at(-1)
  return last?.action === 'closed' ? last : null
}

/** The review of a month: as it was closed, else as today's logs make it. */
export async function monthView(db: Database, month: string): Promise<MonthView> {
  const months = await listMonths(db, DEFAULT_SITE_ID)
  const now = await monthAsStored(db, month)
  const events = await listMonthEvents(db, DEFAULT_SITE_ID, month)
  const last = events.at(-1)
  const closing = last?.action === 'closed' ? last : null
  const frozen = closing ? (closing.frozen as FrozenMonth) : null
  const at = months.indexOf(month)
  return {
    ...(frozen ?? now),
    month,
    months,
    previous: months.find((one) => one < month) ?? null,
    next: months.slice(0, at < 0 ? months.length : at).findLast((one) => one > month) ?? null,
    measures: (await listMeasures(db, { siteId: DEFAULT_SITE_ID })).map(measureOf),
    events: events.map(({ action, author, note, at: when }) => ({
      action,
      author,
      note,
      at: when.toISOString(),
    })),
    closed:
      closing && frozen
        ? {
            author: closing.author,
            note: closing.note,
            at: closing.at.toISOString(),
            differences: frozenDifferences(frozen, now),
          }
        : null,
  }
}
