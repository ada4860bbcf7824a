import { describeProblem } from '@/app/_words/describe'
import type { Database } from '@/db/client'
import { listBestOptions } from '@/db/queries/log-digests'
import { listMachineMonths, listMonthKinds } from '@/db/queries/machine-months'
import { listMachineNames } from '@/db/queries/machines'
import { type ListedMeasure, listMeasures } from '@/db/queries/measures'
import { listBaselines } from '@/db/queries/month-baselines'
import { listMonthEvents } from '@/db/queries/month-events'
import { listMonths } from '@/db/queries/month-totals'
import { DEFAULT_SITE_ID, siteSettings } from '@/db/queries/sites'
import { type LogQuality, listMonthQuality, listWorstProblems } from '@/db/queries/views-quality'
import type { BestOption } from '@/db/schema/log-digests'
import type { MonthEventRow } from '@/db/schema/month-events'
import type { Site } from '@/lib/contract/site'
import type { ReferenceMonths } from '@/lib/months/reference-months'
import { type MachineReview, reviewMachine } from '@/lib/months/review'
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
  /** Null where nothing is kept of its analysis: an earlier engine made it. */
  readonly modelTrusted: boolean | null
  readonly problemCount: number | null
  /** What was wrong with it; null where there is something but others need a look sooner. */
  readonly problems: readonly string[] | null
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

/** Of so many logs of a month it is told what was wrong with them: nobody reads more at once, each log's page has its own. */
const MOST_TOLD = 50

function qualityOf(log: LogQuality, told: ReadonlyMap<string, readonly string[]>): QualityView {
  const { logId, fileName, startedAt, durationS, rowsRead, rowsRejected, modelTrusted, problemCount } = log
  return {
    logId,
    fileName,
    startedAt: startedAt?.toISOString() ?? null,
    durationS,
    rowsRead,
    rowsRejected,
    modelTrusted,
    problemCount,
    problems: problemCount === 0 ? [] : (told.get(logId) ?? null),
  }
}

/** Sentences of what was wrong with the logs that need a look most, by log. */
async function toldProblems(db: Database, month: string) {
  const worst = await listWorstProblems(db, DEFAULT_SITE_ID, month, MOST_TOLD)
  return new Map(
    worst.map(({ logId, problems }) => [logId, problems.map((problem) => describeProblem(problem).message)]),
  )
}

/** The marks that count, by machine, with the months that each spans. */
async function baselineSpans(db: Database) {
  const marks = await listBaselines(db, DEFAULT_SITE_ID)
  // Many machines share a span.
  const known = new Map<string, readonly string[]>()
  return new Map(
    marks.flatMap(({ machineId, fromMonth, untilMonth }) => {
      if (!fromMonth || !untilMonth) return []
      const span = `${fromMonth} ${untilMonth}`
      const months = known.get(span) ?? monthsBetween(fromMonth, untilMonth)
      known.set(span, months)
      return [[machineId, { fromMonth, untilMonth, months }] as const]
    }),
  )
}

/** What the month is held against, by machine and month. */
async function monthsHeldAgainst(db: Database, months: readonly string[]) {
  const kinds = new Map<string, Map<string, ReferenceMonths['months'][number]>>()
  for (const { machineId, ...one } of await listMonthKinds(db, DEFAULT_SITE_ID, months)) {
    const own = kinds.get(machineId)
    if (own) own.set(one.month, one)
    else kinds.set(machineId, new Map([[one.month, one]]))
  }
  return kinds
}

/** The figures of a month as today's logs and settings make them. */
export async function monthAsStored(db: Database, month: string): Promise<FrozenMonth> {
  const [previous, lastYear] = [monthBefore(month), yearBefore(month)]
  const held = baselineSpans(db).then(async (baselines) => {
    const spans = [...baselines.values()].flatMap(({ months }) => months)
    return { baselines, kinds: await monthsHeldAgainst(db, [...new Set([previous, lastYear, ...spans])]) }
  })
  // All at once: a server answers them side by side.
  const [site, known, rows, { baselines, kinds }, quality, told, bests] = await Promise.all([
    siteSettings(db),
    listMachineNames(db, DEFAULT_SITE_ID),
    listMachineMonths(db, DEFAULT_SITE_ID, [month]),
    held,
    listMonthQuality(db, DEFAULT_SITE_ID, month),
    toldProblems(db, month),
    listBestOptions(db, DEFAULT_SITE_ID),
  ])
  const summaries = new Map(rows.map(({ machineId, summary }) => [machineId, summary]))
  const logs = groupBy(quality, (log) => log.machineId)
  const bestOf = new Map(bests.map(({ machineId, best }) => [machineId, best]))
  const machines = known.flatMap(({ id, name, line }): MachineMonthView[] => {
    const summary = summaries.get(id)
    if (!summary) return []
    const of = (months: readonly string[]) => {
      const found = months.flatMap((one) => kinds.get(id)?.get(one) ?? [])
      return found.length > 0 ? { months: found } : null
    }
    const mark = baselines.get(id)
    const references = {
      previous: of([previous]),
      lastYear: of([lastYear]),
      baseline: of(mark?.months ?? []),
    }
    return [
      {
        machineId: id,
        name,
        line,
        review: reviewMachine(month, { id, name }, summary, references, site),
        baseline: mark ? { fromMonth: mark.fromMonth, untilMonth: mark.untilMonth } : null,
        logs: (logs.get(id) ?? []).map((log) => qualityOf(log, told)),
        best: bestOf.get(id) ?? null,
      },
    ]
  })
  return {
    site,
    machines,
    unlogged: known.filter(({ id }) => !summaries.has(id)).map(({ id, name }) => ({ id, name })),
  }
}

function measureOf({ lastEvent, ...measure }: ListedMeasure): MeasureOfMonth {
  const { id, machineId, machineName, optionId, title, state, owner, expected } = measure
  const { on, reason, proof } = lastEvent
  const verdict = proof && verdictSentence(proof)
  return { id, machineId, machineName, optionId, title, state, owner, expected, on, reason, verdict }
}

/** What was frozen before logs told how much was wrong with them told all of it. */
function asFrozen(frozen: FrozenMonth): FrozenMonth {
  const counted = (log: QualityView) => ({
    ...log,
    problemCount: log.problemCount ?? log.problems?.length ?? null,
  })
  return { ...frozen, machines: frozen.machines.map((one) => ({ ...one, logs: one.logs.map(counted) })) }
}

/** The last thing done to a month, where that closed it. */
export async function closingOf(db: Database, month: string): Promise<MonthEventRow | null> {
  const last = (await listMonthEvents(db, DEFAULT_SITE_ID, month)).at(-1)
  return last?.action === 'closed' ? last : null
}

/** The review of a month: as it was closed, else as today's logs make it. */
export async function monthView(db: Database, month: string): Promise<MonthView> {
  const [months, now, events, measures] = await Promise.all([
    listMonths(db, DEFAULT_SITE_ID),
    monthAsStored(db, month),
    listMonthEvents(db, DEFAULT_SITE_ID, month),
    listMeasures(db, { siteId: DEFAULT_SITE_ID }),
  ])
  const last = events.at(-1)
  const closing = last?.action === 'closed' ? last : null
  const frozen = closing ? asFrozen(closing.frozen as FrozenMonth) : null
  const at = months.indexOf(month)
  return {
    ...(frozen ?? now),
    month,
    months,
    previous: months.find((one) => one < month) ?? null,
    next: months.slice(0, at < 0 ? months.length : at).findLast((one) => one > month) ?? null,
    measures: measures.map(measureOf),
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
