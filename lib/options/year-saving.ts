import type { Estimate } from '@/lib/contract/estimate'
import type { OptionResult } from '@/lib/contract/result'
import { PHASE_KINDS } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import { demandCostPerMonth } from '@/lib/economics/demand'
import type { Interval, StandardDraws } from '@/lib/economics/draws'
import { basisOf, reaching, scaled } from '@/lib/ledger/estimates'
import type { Ledger } from '@/lib/ledger/ledger'
import { overYear } from '@/lib/ledger/over-year'
import { kindIndex } from '@/lib/ledger/totals'
import type { Cycle } from '@/lib/phases/cycles'
import { J_PER_KWH, MONTHS_PER_YEAR, W_PER_KW } from '@/lib/units'
import type { Peaks } from './peak'
import type { Replayed } from './replay'

/** What turns a log's saving into a year's money. */
export interface YearBasis {
  readonly site: Site
  readonly runningHours: number
  readonly pricePerKWh: number
  readonly cycles: readonly Cycle[]
}

/** The year with what every option is appraised with. */
export interface MoneyBasis extends YearBasis {
  readonly draws: StandardDraws
}

/** A saving as the result shows it. */
export type ShownSaving = {
  readonly [Key in
    | 'savedShare'
    | 'savedKWhInLog'
    | 'savedKWhPerYear'
    | 'savedCoolingKWhPerYear'
    | 'savedCostPerYear'
    | 'savedKgCO2PerYear'
    | 'lessHeatKW']: NonNullable<OptionResult[Key]>
} & Pick<OptionResult, 'savedDemandCostPerYear'>

export interface Saving {
  readonly shown: ShownSaving
  /** Energy of a year with the cooling's, kWh, its interval without the doubt of the year's hours. */
  readonly savedKWh: Interval
  readonly demandCostPerKWh: number
}

/** Electricity per heat of what cools the machine's oil: its own word, else the site's; 0 where neither says. */
export const electricPerHeat = ({ machine }: Pick<Ledger, 'machine'>, site: Site) =>
  (machine.cooling ?? site.cooling)?.electricPerHeat ?? 0

/** A replayed saving in the log and over a year of planned running hours, with its peak where demand is charged for. */
export function savingOf(
  replayed: Replayed,
  ledger: Ledger,
  { site, runningHours, pricePerKWh }: YearBasis,
  peaks: Peaks | null,
): Saving {
  const basis = basisOf(ledger, 'electricIn') === 'default' ? 'default' : 'estimated'
  const loggedKWh =
    PHASE_KINDS.reduce((total, kind) => total + ledger.totals[kindIndex(kind, 'electricIn')], 0) / J_PER_KWH
  const { samplingShareSd } = replayed
  const savedShare = reaching(replayed.savedShare, replayed.reach, basis)
  const perYear = runningHours > 0 ? site.plannedHoursPerYear / runningHours : 0
  const perShare = (of: number) => (replayed.savedShare === 0 ? 0 : of / replayed.savedShare)
  const heatPerShare = perShare(replayed.lessHeatW / W_PER_KW)
  const perHeat = electricPerHeat(ledger, site)
  const coolingPerShare = perHeat * heatPerShare * site.plannedHoursPerYear
  const nothing: Estimate = { value: 0, low: 0, high: 0, basis }
  const yearOf = (plannedHoursLimitShare: number, factor: number) =>
    overYear(savedShare, factor, { samplingShareSd, plannedHoursLimitShare })
  const wholePerShare = loggedKWh * perYear + coolingPerShare
  const whole = yearOf(site.plannedHoursLimitShare, wholePerShare)
  const savedPeakW = peaks ? peaks.beforeW - peaks.afterW : null
  const monthly = site.tariff?.demand ? demandCostPerMonth(savedPeakW, site) : 0
  const demandCost = monthly === null ? null : monthly * MONTHS_PER_YEAR
  const demandOf = (cost: number | null) => {
    if (cost === null) return null
    return cost === 0 ? nothing : scaled(savedShare, perShare(cost))
  }
  const wholeKWh = replayed.savedShare * wholePerShare
  return {
    shown: {
      savedShare,
      savedKWhInLog: scaled(savedShare, loggedKWh),
      savedKWhPerYear: yearOf(site.plannedHoursLimitShare, loggedKWh * perYear),
      savedCoolingKWhPerYear: perHeat === 0 ? nothing : yearOf(site.plannedHoursLimitShare, coolingPerShare),
      savedCostPerYear: scaled(whole, pricePerKWh),
      savedDemandCostPerYear: demandOf(demandCost),
      savedKgCO2PerYear: scaled(whole, site.emissionKgPerKWh),
      lessHeatKW: scaled(savedShare, heatPerShare),
    },
    savedKWh: yearOf(0, wholePerShare),
    demandCostPerKWh: wholeKWh === 0 ? 0 : (demandCost ?? 0) / wholeKWh,
  }
}
