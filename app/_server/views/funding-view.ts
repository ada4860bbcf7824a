import { byName, compareNames } from '@/app/_ui/name-order'
import { describeCaution } from '@/app/_words/describe'
import type { Database } from '@/db/client'
import { type LatestChoices, listLatestChoices } from '@/db/queries/log-digests'
import { listMachineNames } from '@/db/queries/machines'
import { type ListedMeasure, listMeasures } from '@/db/queries/measures'
import { DEFAULT_SITE_ID, siteSettings } from '@/db/queries/sites'
import { listLatestQuotes } from '@/db/queries/views-funding'
import type { Estimate } from '@/lib/contract/estimate'
import type { Site } from '@/lib/contract/site'
import { weekMeanPrice } from '@/lib/economics/tariff'
import type { FundingChoice } from '@/lib/portfolio/choice'
import { type CostStep, costCurveOf } from '@/lib/portfolio/cost-curve'
import {
  type Aim,
  type Funding,
  fund,
  type MachineChoices,
  portfolioOf,
  usualAim,
  worthFor,
} from '@/lib/portfolio/fund'
import { together } from '@/lib/portfolio/together'
import type { FundingQuery } from './funding-query'
import { groupBy } from './group-by'

export interface DecidedMeasure {
  readonly machineId: string
  readonly machineName: string
  readonly measureId: string
  readonly measure: Pick<ListedMeasure, 'optionId' | 'title' | 'state' | 'expected'>
  /** Its latest quote, else the likely investment of its option; null where neither is known. */
  readonly cost: number | null
}

export interface FundingView {
  readonly site: Site
  readonly query: FundingQuery
  readonly aim: Aim
  readonly usualAim: Aim
  readonly lines: readonly string[]
  readonly names: ReadonlyMap<string, string>
  readonly funding: Funding
  /** What may be spent on new choices: the budget less what is decided, where that counts. Null: as much as it takes. */
  readonly free: number | null
  readonly totals: Record<'investment' | 'netPresentValue' | 'savedKWhPerYear', Estimate | null>
  readonly curve: readonly CostStep[]
  readonly pricePerKWh: number
  /** The best portfolio at other budgets. */
  readonly elsewhere: readonly { budget: number; cost: number; worth: number; machines: number }[]
  readonly decided: readonly DecidedMeasure[]
  /** Left out by hand. */
  readonly without: readonly string[]
  readonly unlogged: readonly string[]
  readonly untrusted: ReadonlySet<string>
  readonly cautions: readonly { message: string; machineIds: readonly string[] }[]
}

const OTHER_BUDGETS = [0.5, 1, 1.5, 2]

/** Decided and not yet in the latest log: approved, ordered, or installed after that log was recorded. */
function isPending({ state, lastEvent }: ListedMeasure, latest: LatestChoices | undefined): boolean {
  if (state === 'approved' || state === 'ordered') return true
  if (state !== 'installed' || !latest?.startedAt) return false
  return lastEvent.on !== null && lastEvent.on >= latest.startedAt.toISOString().slice(0, 'YYYY-MM-DD'.length)
}

async function decidedOf(
  db: Database,
  latest: ReadonlyMap<string, LatestChoices>,
): Promise<DecidedMeasure[]> {
  const measures = await listMeasures(db, { siteId: DEFAULT_SITE_ID })
  const pending = measures.filter((one) => isPending(one, latest.get(one.machineId)))
  const quotes = await listLatestQuotes(
    db,
    pending.map(({ id }) => id),
  )
  return pending.map((measure) => {
    const { machineId, machineName, id: measureId, optionId, title, state, expected } = measure
    const choices = latest.get(machineId)?.choices ?? []
    const same = choices.find(({ options }) => options.length === 1 && options[0] === optionId)
    const cost = quotes.get(measureId) ?? same?.investment.value ?? null
    return { machineId, machineName, measureId, measure: { optionId, title, state, expected }, cost }
  })
}

/** Sums of what is funded, with intervals: price and hours move all machines of a site together. */
function totalsOf(choices: readonly FundingChoice[], site: Site): FundingView['totals'] {
  const { energyPriceLimitShare, plannedHoursLimitShare } = site
  const parts = (of: keyof FundingView['totals'], shared: (choice: FundingChoice) => number) =>
    choices.map((choice) => ({ estimate: choice[of], shared: shared(choice) }))
  const savedWorth = (choice: FundingChoice) => choice.netPresentValue.value + choice.investment.value
  return {
    investment: together(
      parts('investment', () => 0),
      [],
    ),
    netPresentValue: together(parts('netPresentValue', savedWorth), [
      energyPriceLimitShare,
      plannedHoursLimitShare,
    ]),
    savedKWhPerYear: together(
      parts('savedKWhPerYear', ({ savedKWhPerYear }) => savedKWhPerYear.value),
      [plannedHoursLimitShare],
    ),
  }
}

function cautionsOf(funding: Funding, latest: ReadonlyMap<string, LatestChoices>): FundingView['cautions'] {
  const said = funding.funded.flatMap(({ machineId, choice }) =>
    choice.options.flatMap((option) =>
      (latest.get(machineId)?.cautions[option] ?? []).map((note) => ({
        machineId,
        message: describeCaution(note).message,
      })),
    ),
  )
  return [...groupBy(said, ({ message }) => message)].map(([message, own]) => ({
    message,
    machineIds: [...new Set(own.map(({ machineId }) => machineId))],
  }))
}

/** Which fixes to fund across the machines of the site: at most one replayed set for each. */
export async function fundingView(db: Database, query: FundingQuery): Promise<FundingView> {
  const site = await siteSettings(db)
  const machines = byName(await listMachineNames(db, DEFAULT_SITE_ID))
  const latest = new Map((await listLatestChoices(db, DEFAULT_SITE_ID)).map((one) => [one.machineId, one]))
  const inLine = machines.filter(({ line }) => query.line === null || line === query.line)
  const shown = new Set(inLine.map(({ id }) => id))
  const decided = (await decidedOf(db, latest)).filter(({ machineId }) => shown.has(machineId))
  const barred = new Set([...query.without, ...decided.map(({ machineId }) => machineId)])
  const candidates = inLine.flatMap(({ id }): MachineChoices[] => {
    const own = latest.get(id)
    if (!own || barred.has(id)) return []
    const choices = own.choices.filter(({ isPlaceholder }) => !(query.isQuotedOnly && isPlaceholder))
    return [{ machineId: id, choices }]
  })
  const usual = usualAim(candidates)
  const aim = query.aim ?? usual
  const spent = query.isDecidedSpent ? decided.reduce((sum, { cost }) => sum + (cost ?? 0), 0) : 0
  const free = query.budget === null ? null : Math.max(0, query.budget - spent)
  const everything = candidates.reduce(
    (sum, { choices }) => sum + Math.max(0, ...choices.map(({ investment }) => investment.value)),
    0,
  )
  const funding = fund(candidates, free ?? everything, aim)
  const chosen = funding.funded.map(({ choice }) => choice)
  return {
    site,
    query,
    aim,
    usualAim: usual,
    lines: [...new Set(machines.flatMap(({ line }) => line ?? []))].sort(compareNames),
    names: new Map(machines.map(({ id, name }) => [id, name])),
    funding: {
      ...funding,
      funded: [...funding.funded].sort((a, b) => worthFor(aim, b.choice) - worthFor(aim, a.choice)),
    },
    free,
    totals: totalsOf(chosen, site),
    curve: costCurveOf(funding.funded),
    pricePerKWh: weekMeanPrice(site),
    elsewhere: free ? otherBudgets(candidates, free, aim, funding) : [],
    decided,
    without: query.without.filter((id) => shown.has(id)),
    unlogged: inLine.filter(({ id }) => !latest.has(id)).map(({ id }) => id),
    untrusted: new Set([...latest.values()].filter((one) => !one.modelTrusted).map((one) => one.machineId)),
    cautions: cautionsOf(funding, latest),
  }
}

function otherBudgets(
  candidates: readonly MachineChoices[],
  free: number,
  aim: Aim,
  funding: Funding,
): FundingView['elsewhere'] {
  return OTHER_BUDGETS.map((factor) => {
    const budget = free * factor
    if (factor === 1)
      return { budget, cost: funding.cost, worth: funding.worth, machines: funding.funded.length }
    const { cost, worth, picks } = portfolioOf(candidates, budget, aim)
    return { budget, cost, worth, machines: picks.filter((pick) => pick !== null).length }
  })
}
