import { bestPortfolio, type Portfolio } from './best-portfolio'
import type { FundingChoice } from './choice'

/** What is made the most of. */
export const AIMS = ['worth', 'energy'] as const
export type Aim = (typeof AIMS)[number]

export interface MachineChoices {
  readonly machineId: string
  readonly choices: readonly FundingChoice[]
}

/** Why a machine gets nothing. */
export const LEFT_OUT = ['no-choice', 'not-worth-it', 'beyond-budget', 'buys-less'] as const
export type LeftOutReason = (typeof LEFT_OUT)[number]

export interface LeftOut {
  readonly machineId: string
  readonly reason: LeftOutReason
  /** What it would most likely get first; null where nothing could be bought for it. */
  readonly choice: FundingChoice | null
}

export interface Funded {
  readonly machineId: string
  readonly choice: FundingChoice
}

/** One machine's choice changed for a better one. */
export interface FurtherChange extends Funded {
  readonly instead: FundingChoice | null
  /** Money needed beyond the budget, what is left of it used up first. */
  readonly extraCost: number
  /** Worth gained, in the aim's unit. */
  readonly gain: number
}

export interface Funding {
  readonly funded: readonly Funded[]
  readonly leftOut: readonly LeftOut[]
  readonly cost: number
  readonly worth: number
  /** No portfolio within the budget is worth more. */
  readonly worthAtMost: number
  /** Whether this is the best; else the search was cut short. */
  readonly isBest: boolean
  /** Most gain for the extra money first. */
  readonly further: readonly FurtherChange[]
}

/** While an investment is a placeholder, money decides nothing: energy does. */
export function usualAim(machines: readonly MachineChoices[]): Aim {
  return machines.some(({ choices }) => choices.some(({ isPlaceholder }) => isPlaceholder))
    ? 'energy'
    : 'worth'
}

/** What a choice is worth for an aim: net present value, or kWh saved a year. */
export const worthFor = (aim: Aim, { netPresentValue, savedKWhPerYear }: FundingChoice) =>
  aim === 'worth' ? netPresentValue.value : savedKWhPerYear.value

/** The best portfolio of the machines' choices within a budget, by likely investments. */
export function portfolioOf(machines: readonly MachineChoices[], budget: number, aim: Aim): Portfolio {
  const groups = machines.map(({ choices }) =>
    choices.map((choice) => ({ cost: choice.investment.value, worth: worthFor(aim, choice) })),
  )
  return bestPortfolio(groups, budget)
}

const MOST_FURTHER = 5

/** The best portfolio with what it leaves out, why, and what more money would buy first. */
export function fund(machines: readonly MachineChoices[], budget: number, aim: Aim): Funding {
  const { picks, cost, worth, worthAtMost } = portfolioOf(machines, budget, aim)
  const funded: Funded[] = []
  const leftOut: LeftOut[] = []
  const further: FurtherChange[] = []
  machines.forEach(({ machineId, choices }, k) => {
    const pick = picks[k]
    const now = pick === null ? null : choices[pick]
    if (now) funded.push({ machineId, choice: now })
    else leftOut.push(whyLeftOut(machineId, choices, budget, aim))
    for (const choice of choices) {
      const gain = worthFor(aim, choice) - (now ? worthFor(aim, now) : 0)
      const extraCost = choice.investment.value - (now?.investment.value ?? 0) - (budget - cost)
      if (gain > 0 && extraCost > 0) further.push({ machineId, choice, instead: now, extraCost, gain })
    }
  })
  further.sort((a, b) => b.gain / b.extraCost - a.gain / a.extraCost)
  const seen = new Set<string>()
  const firstOfEach = further.filter(({ machineId }) => !seen.has(machineId) && seen.add(machineId))
  return {
    funded,
    leftOut,
    cost,
    worth,
    worthAtMost,
    isBest: worthAtMost <= worth,
    further: firstOfEach.slice(0, MOST_FURTHER),
  }
}

function whyLeftOut(machineId: string, choices: readonly FundingChoice[], budget: number, aim: Aim): LeftOut {
  if (choices.length === 0) return { machineId, reason: 'no-choice', choice: null }
  const perMoney = (choice: FundingChoice) => worthFor(aim, choice) / Math.max(1, choice.investment.value)
  const first = (of: readonly FundingChoice[]) => of.reduce((a, b) => (perMoney(b) > perMoney(a) ? b : a))
  const paying = choices.filter((choice) => worthFor(aim, choice) > 0)
  if (paying.length === 0) return { machineId, reason: 'not-worth-it', choice: first(choices) }
  const within = paying.filter(({ investment }) => investment.value <= budget)
  return within.length
    ? { machineId, reason: 'buys-less', choice: first(within) }
    : { machineId, reason: 'beyond-budget', choice: first(paying) }
}
