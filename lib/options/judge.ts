import type { Estimate } from '@/lib/contract/estimate'
import type { OptionId, OptionResult } from '@/lib/contract/result'
import { PHASE_KINDS } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import { type Appraisal, appraise } from '@/lib/economics/appraise'
import { type Investment, investmentOf } from '@/lib/economics/option-costs'
import { basisOf, reaching, scaled } from '@/lib/ledger/estimates'
import type { Ledger } from '@/lib/ledger/ledger'
import { overYear } from '@/lib/ledger/over-year'
import { kindIndex } from '@/lib/ledger/totals'
import { seededRandom } from '@/lib/numeric/random'
import type { Cycle } from '@/lib/phases/cycles'
import { J_PER_KWH, W_PER_KW } from '@/lib/units'
import { note, type OptionPlan } from './option'
import type { Replayed } from './replay'

/** What turns a log's saving into a year's money. */
export interface YearBasis {
  readonly site: Site
  readonly runningHours: number
  readonly pricePerKWh: number
  readonly cycles: readonly Cycle[]
}

export interface Saving {
  readonly savedShare: Estimate
  readonly savedKWhInLog: Estimate
  readonly savedKWhPerYear: Estimate
  readonly savedCostPerYear: Estimate
  readonly savedKgCO2PerYear: Estimate
  readonly lessHeatKW: Estimate
}

/** A replayed saving in the log and over a year of planned running hours. */
export function savingOf(replayed: Replayed, ledger: Ledger, year: YearBasis): Saving {
  const basis = basisOf(ledger, 'electricIn') === 'default' ? 'default' : 'estimated'
  const loggedKWh =
    PHASE_KINDS.reduce((sum, kind) => sum + ledger.totals[kindIndex(kind, 'electricIn')], 0) / J_PER_KWH
  const { reach } = replayed
  const savedShare = reaching(replayed.savedShare, reach, basis)
  const perYear = year.runningHours > 0 ? year.site.plannedHoursPerYear / year.runningHours : 0
  const savedKWhPerYear = overYear(savedShare, loggedKWh * perYear, {
    samplingShareSd: replayed.samplingShareSd,
    plannedHoursLimitShare: year.site.plannedHoursLimitShare,
  })
  const heatKW = replayed.lessHeatW / W_PER_KW
  const heatPerShare = replayed.savedShare === 0 ? 0 : heatKW / replayed.savedShare
  return {
    savedShare,
    savedKWhInLog: scaled(savedShare, loggedKWh),
    savedKWhPerYear,
    savedCostPerYear: scaled(savedKWhPerYear, year.pricePerKWh),
    savedKgCO2PerYear: scaled(savedKWhPerYear, year.site.emissionKgPerKWh),
    lessHeatKW: scaled(savedShare, heatPerShare),
  }
}

/** What a saving is worth for an investment low, likely, high. */
export function worthOf(saving: Saving, investment: Investment['cost'], site: Site): Appraisal {
  return appraise({
    savedCostPerYear: saving.savedCostPerYear,
    investment,
    discountRate: site.discountRate,
    lifetimeYears: site.lifetimeYears,
    wantedPaybackYears: site.wantedPaybackYears,
    random: seededRandom(1),
  })
}

/** One option's row of the result, in money and energy, or with the reasons why not. */
export function judge(
  id: OptionId,
  plan: OptionPlan,
  replayed: Replayed | null,
  ledger: Ledger,
  year: YearBasis,
): OptionResult {
  const { cost, isPlaceholder } = investmentOf(id, ledger.machine, year.site)
  const common = {
    id,
    feasible: replayed !== null,
    judged: plan.judged,
    reasons:
      replayed && replayed.savedShare < 0 ? [...plan.reasons, note('costs-energy')] : [...plan.reasons],
    settings: { ...plan.settings },
    investmentIsPlaceholder: isPlaceholder,
    cautions: [...plan.cautions],
  }
  if (!replayed) {
    return {
      ...common,
      savedShare: null,
      savedKWhInLog: null,
      savedKWhPerYear: null,
      savedCostPerYear: null,
      savedKgCO2PerYear: null,
      lessHeatKW: null,
      cycleTimeChangeShare: null,
      investment: null,
      netPresentValue: null,
      paybackYears: null,
      internalRateOfReturn: null,
      paybackProbability: null,
    }
  }
  const saving = savingOf(replayed, ledger, year)
  const appraisal = worthOf(saving, cost, year.site)
  return {
    ...common,
    ...saving,
    cycleTimeChangeShare: plan.cycleTimeChangeShare,
    investment: {
      value: cost[1],
      low: cost[0],
      high: cost[2],
      basis: isPlaceholder ? 'default' : 'estimated',
    },
    ...appraisal,
  }
}
