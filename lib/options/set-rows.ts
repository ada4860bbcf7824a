import type { Estimate } from '@/lib/contract/estimate'
import type { Combination, OptionId } from '@/lib/contract/option-result'
import type { Analysis } from '@/lib/contract/result'
import { appraise } from '@/lib/economics/appraise'
import type { Triangle } from '@/lib/economics/draws'
import { investmentOf, lifetimeOf, maintenanceOf } from '@/lib/economics/option-costs'
import { costPerSavedKWh, type Prospect, savedMoney } from '@/lib/economics/prospect'
import type { Ledger } from '@/lib/ledger/ledger'
import { COVERAGE, reachOfSum } from '@/lib/ledger/propagate'
import type { ChosenSet } from './combine'
import { entered, prospectOf, prospectOfOption } from './judge'
import type { Peaks } from './peak'
import type { Replayed } from './replay'
import { type MoneyBasis, savingOf } from './year-saving'

/** A replay with the highest window means it leaves, where demand is charged for. */
export interface WithPeaks {
  readonly replayed: Replayed
  readonly peaks: Peaks | null
}

/** What a replay saves beyond another one, and how far that reaches: both answer to the same parameters. */
export function beyond(after: Replayed, before: Replayed | null): Replayed {
  if (!before) return after
  const savedShare = after.savedShare - before.savedShare
  const share = after.savedShare === 0 ? 0 : savedShare / after.savedShare
  const grounds = {
    ...after.grounds,
    beforeJ: before.grounds.afterJ,
    replaySd: after.grounds.replaySd * share,
  }
  const weights = new Map([
    [after.grounds.index, 1],
    [before.grounds.index, -1],
  ])
  const { below, above } = reachOfSum(grounds.sensitivity, weights)
  const own = COVERAGE * Math.hypot(grounds.replaySd, grounds.optionSd)
  return {
    savedShare,
    reach: { below: Math.hypot(below, own), above: Math.hypot(above, own) },
    samplingShareSd: after.samplingShareSd,
    lessHeatW: after.lessHeatW - before.lessHeatW,
    grounds,
  }
}

/** Highest window means of what a step adds to those before. */
export const peaksBeyond = (after: Peaks | null, before: WithPeaks | null): Peaks | null =>
  after && before?.peaks ? { beforeW: before.peaks.afterW, afterW: after.afterW } : after

const together = (triangles: readonly Triangle[]): Triangle => {
  const sum = (end: 0 | 1 | 2) => triangles.reduce((total, triangle) => total + triangle[end], 0)
  return [sum(0), sum(1), sum(2)]
}

/** What a set promises: each share of the money saved lasts as long as the step that brings it. */
function prospectOfSet(whole: Prospect, steps: readonly Prospect[], years: readonly number[]): Prospect {
  const money = steps.map((step) => savedMoney(step, step.savedKWh.value, step.maintenance[1]))
  const sum = money.reduce((total, one) => total + one, 0)
  const lives = years.map((life, k) => ({
    share: sum === 0 ? 1 / years.length : money[k] / sum,
    years: life,
  }))
  const isOne = years.every((life) => life === years[0])
  return { ...whole, lives: isOne ? [{ share: 1, years: years[0] }] : lives }
}

export interface SetRow {
  readonly row: Combination
  readonly curve: Analysis['marginalCostCurve']
}

/** A set's row of the result, with its steps in money and the cost of each kWh that they add. */
export function setRow(
  { options, order }: Pick<ChosenSet, 'options' | 'order'>,
  steps: readonly WithPeaks[],
  ledger: Ledger,
  year: MoneyBasis,
): SetRow {
  const { machine } = ledger
  const { site, draws } = year
  const { wantedPaybackYears } = site
  const costOf = (id: OptionId) => investmentOf(id, machine, site)
  const added = steps.map(({ replayed, peaks }, k) => {
    const before = k === 0 ? null : steps[k - 1]
    const saving = savingOf(
      beyond(replayed, before?.replayed ?? null),
      ledger,
      year,
      peaksBeyond(peaks, before),
    )
    const prospect = prospectOfOption(order[k], saving, ledger, year)
    return { saving, prospect, worth: appraise({ ...prospect, wantedPaybackYears, draws }) }
  })
  const last = steps[steps.length - 1]
  const saving = savingOf(last.replayed, ledger, year, last.peaks)
  const investment = together(order.map((id) => costOf(id).cost))
  const own = { investment, maintenance: together(order.map((id) => maintenanceOf(id, site))), lives: [] }
  const prospect = prospectOfSet(
    prospectOf(saving, year, own),
    added.map((one) => one.prospect),
    order.map((id) => lifetimeOf(id, site)),
  )
  const { netPresentValue } = appraise({ ...prospect, wantedPaybackYears, draws })
  const enteredFor = (id: OptionId): Estimate => entered(costOf(id).cost, costOf(id).isPlaceholder)
  return {
    row: {
      options: [...options],
      savedKWhPerYear: saving.shown.savedKWhPerYear,
      netPresentValue,
      order: [...order],
      investment: entered(
        investment,
        order.some((id) => costOf(id).isPlaceholder),
      ),
      steps: added.map((one, k) => ({
        option: order[k],
        savedKWhPerYear: one.saving.shown.savedKWhPerYear,
        investment: enteredFor(order[k]),
        netPresentValue: one.worth.netPresentValue,
      })),
    },
    curve: added.map((one, k) => ({
      option: order[k],
      savedKWhPerYear: one.saving.savedKWh.value,
      costPerSavedKWh: costPerSavedKWh(one.prospect),
    })),
  }
}
