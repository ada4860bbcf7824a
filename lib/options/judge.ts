import type { Estimate } from '@/lib/contract/estimate'
import type { OptionId, OptionResult } from '@/lib/contract/result'
import { appraise } from '@/lib/economics/appraise'
import type { Triangle } from '@/lib/economics/draws'
import { investmentOf, lifetimeOf, maintenanceOf } from '@/lib/economics/option-costs'
import type { Prospect } from '@/lib/economics/prospect'
import type { Named } from '@/lib/economics/tornado'
import type { Ledger } from '@/lib/ledger/ledger'
import { confirmationOf } from './confirm'
import { note, type OptionPlan } from './option'
import type { Peaks } from './peak'
import type { Replayed } from './replay'
import { type MoneyBasis, type Saving, savingOf } from './year-saving'

/** A row's figures where an option is infeasible or not judged. */
export const NO_FIGURES = {
  savedShare: null,
  savedKWhInLog: null,
  savedKWhPerYear: null,
  savedCoolingKWhPerYear: null,
  savedCostPerYear: null,
  savedDemandCostPerYear: null,
  savedKgCO2PerYear: null,
  lessHeatKW: null,
  cycleTimeChangeShare: null,
  investment: null,
  maintenanceCostPerYear: null,
  savedMoneyPerYear: null,
  netPresentValue: null,
  paybackYears: null,
  discountedPaybackYears: null,
  costPerSavedKWh: null,
  internalRateOfReturn: null,
  paybackProbability: null,
  tornado: null,
} as const

/** What a person entered, or a placeholder, as an estimate. */
export const entered = ([low, value, high]: Triangle, isPlaceholder = false): Estimate => ({
  value,
  low,
  high,
  basis: isPlaceholder ? 'default' : 'estimated',
})

/** What a saving promises at the site's price, rate and doubts. */
export function prospectOf(
  { savedKWh, demandCostPerKWh }: Saving,
  { site, pricePerKWh }: MoneyBasis,
  own: Pick<Prospect, 'investment' | 'maintenance' | 'lives'>,
): Prospect {
  return {
    ...own,
    savedKWh,
    demandCostPerKWh,
    pricePerKWh,
    hoursLimitShare: site.plannedHoursLimitShare,
    priceLimitShare: site.energyPriceLimitShare,
    discountRate: site.discountRate,
  }
}

/** What one option promises, its life its own or the site's. */
export function prospectOfOption(
  id: OptionId,
  saving: Saving,
  { machine }: Ledger,
  year: MoneyBasis,
): Omit<Named<OptionId>, 'movesAlong'> {
  const { site } = year
  const own = {
    investment: investmentOf(id, machine, site).cost,
    maintenance: maintenanceOf(id, site),
    lives: [{ share: 1, years: lifetimeOf(id, site) }],
  }
  return {
    ...prospectOf(saving, year, own),
    id,
    plannedHours: site.plannedHoursPerYear,
    discountRateLimit: site.discountRateLimit,
    lifetimeLimitShare: site.lifetimeLimitShare,
    lifeIsShared: site.optionLifetimeYears[id] === undefined,
  }
}

export interface Judged {
  readonly row: OptionResult
  /** What the option promises; null where it cannot be carried out. */
  readonly prospect: Omit<Named<OptionId>, 'movesAlong'> | null
}

/** One option's row of the result, in money and energy, or with the reasons why not; its tornado needs all options. */
export function judge(
  id: OptionId,
  plan: OptionPlan,
  replayed: Replayed | null,
  ledger: Ledger,
  year: MoneyBasis,
  peaks: Peaks | null,
): Judged {
  const { cost, isPlaceholder } = investmentOf(id, ledger.machine, year.site)
  const common = {
    id,
    feasible: replayed !== null,
    judged: plan.judged,
    reasons:
      replayed && replayed.savedShare < 0 ? [...plan.reasons, note('costs-energy')] : [...plan.reasons],
    settings: { ...plan.settings },
    searched: [...(plan.searched ?? [])],
    investmentIsPlaceholder: isPlaceholder,
    cautions: [...plan.cautions],
    ...confirmationOf(id, ledger),
  }
  if (!replayed) return { row: { ...common, ...NO_FIGURES }, prospect: null }
  const saving = savingOf(replayed, ledger, year, peaks)
  const prospect = prospectOfOption(id, saving, ledger, year)
  const { wantedPaybackYears } = year.site
  return {
    row: {
      ...common,
      ...saving.shown,
      cycleTimeChangeShare: plan.cycleTimeChangeShare,
      investment: entered(cost, isPlaceholder),
      maintenanceCostPerYear: entered(prospect.maintenance),
      ...appraise({ ...prospect, wantedPaybackYears, draws: year.draws }),
      tornado: null,
    },
    prospect,
  }
}
