import type { Database } from '@/db/client'
import { listBestOptions } from '@/db/queries/log-digests'
import { listMachineNames, type MachineName } from '@/db/queries/machines'
import { listBaselineSpans } from '@/db/queries/month-baselines'
import { DEFAULT_SITE_ID, siteSettings } from '@/db/queries/sites'
import type { BestOption } from '@/db/schema/log-digests'
import type { Site } from '@/lib/contract/site'
import type { KindTable } from '@/lib/months/kind-table'
import { type MachineReview, reviewMachine } from '@/lib/months/review'
import { monthBefore, monthsBetween, yearBefore } from './month-names'
import { type FleetMonth, fleetMonths, NO_MONTH } from './packed-months'

export interface MachineReviewView {
  readonly machineId: string
  readonly name: string
  readonly line: string | null
  readonly review: MachineReview
  readonly baseline: { readonly fromMonth: string; readonly untilMonth: string } | null
  /** What to do first with it, from its latest log; null where no option saves. */
  readonly best: BestOption | null
}

/** The figures of a month, machine by machine, without the logs behind them. */
export interface MonthReviews {
  readonly site: Site
  readonly machines: readonly MachineReviewView[]
  /** Machines without a log in this month. */
  readonly unlogged: readonly { readonly id: string; readonly name: string }[]
}

/** The marks that count, by machine, with the months that each spans. */
export async function baselineSpans(db: Database) {
  const spans = await listBaselineSpans(db, DEFAULT_SITE_ID)
  return new Map(
    spans.flatMap(({ machineIds, fromMonth, untilMonth }) => {
      const span = { baseline: { fromMonth, untilMonth }, months: monthsBetween(fromMonth, untilMonth) }
      return machineIds.map((id) => [id, span] as const)
    }),
  )
}

/** What a month's figures are made of, read and not reviewed yet. */
export interface MonthRead {
  readonly month: string
  readonly site: Site
  readonly known: readonly MachineName[]
  readonly own: FleetMonth
  readonly baselines: Awaited<ReturnType<typeof baselineSpans>>
  /** What the month is held against. */
  readonly held: ReadonlyMap<string, FleetMonth>
  readonly bests: (machineId: string) => BestOption | null
}

/** Reads a month as today's logs and settings make it. All is asked for at once: a server answers side by side. */
export async function readMonth(db: Database, month: string): Promise<MonthRead> {
  const months = baselineSpans(db).then(async (baselines) => {
    const spans = new Set([...baselines.values()].map((span) => span.months))
    const wanted = new Set([month, monthBefore(month), yearBefore(month), ...[...spans].flat()])
    return { baselines, held: await fleetMonths(db, DEFAULT_SITE_ID, [...wanted]) }
  })
  const [site, known, { baselines, held }, bests] = await Promise.all([
    siteSettings(db),
    listMachineNames(db, DEFAULT_SITE_ID),
    months,
    listBestOptions(db, DEFAULT_SITE_ID),
  ])
  return { month, site, known, own: held.get(month) ?? NO_MONTH, baselines, held, bests }
}

/**
 * The reviews of the machines logged, one after the other: who keeps of each but some numbers leaves nothing for the
 * collector to carry about, which takes longer than the reviews.
 */
export function* reviewsOf(read: MonthRead): Generator<MachineReviewView> {
  const { month, site, known, own, baselines, held, bests } = read
  const [previous, lastYear] = [[monthBefore(month)], [yearBefore(month)]]
  for (const { id, name, line } of known) {
    const narrow = own.narrowOf(id)
    if (!narrow) continue
    const mark = baselines.get(id)
    const heldTo = {
      previous: monthsHeld(held, id, previous),
      lastYear: monthsHeld(held, id, lastYear),
      baseline: monthsHeld(held, id, mark?.months ?? []),
    }
    const review = reviewMachine(month, { id, name }, narrow, heldTo, site)
    yield { machineId: id, name, line, review, baseline: mark?.baseline ?? null, best: bests(id) }
  }
}

/** Those of some months that hold anything of a machine; null where none does. */
function monthsHeld(held: MonthRead['held'], id: string, months: readonly string[]) {
  const found: { month: string; table: KindTable }[] = []
  for (const month of months) {
    const table = held.get(month)?.tableOf(id)
    if (table) found.push({ month, table })
  }
  return found.length > 0 ? { months: found } : null
}

export const unloggedOf = ({ known, own }: MonthRead): MonthReviews['unlogged'] =>
  known.filter(({ id }) => !own.has(id)).map(({ id, name }) => ({ id, name }))

export async function monthReviews(db: Database, month: string): Promise<MonthReviews> {
  const read = await readMonth(db, month)
  return { site: read.site, machines: [...reviewsOf(read)], unlogged: unloggedOf(read) }
}
