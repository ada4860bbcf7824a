import type { Analysis } from '@/lib/contract/result'
import { demandCostPerMonth } from '@/lib/economics/demand'
import { MONTHS_PER_YEAR, W_PER_KW } from '@/lib/units'
import type { Grounds, ReplayGround } from './grounds'
import { type Part, scaledParts } from './parts'
import { perYear } from './replay-parts'

/** What a replay saves in a year in energy and money, and the parts of it that the price and upkeep have no hand in. */
export interface YearMoney {
  readonly savedKWh: number
  readonly coolingKWh: number
  readonly energyCost: number
  readonly demandCost: number
  /** Parts of energy and demand cost together; and of the energy alone, cooling included, kWh. */
  readonly costParts: readonly Part[]
  readonly energyParts: readonly Part[]
}

export function yearMoney(replay: ReplayGround, analysis: Analysis, grounds: Grounds): YearMoney {
  const { year } = grounds
  const { site, ledgerKWh } = analysis
  const hours = year.runningHours > 0 ? year.plannedHours / year.runningHours : 0
  const savedKWh = replay.savedShare * ledgerKWh.electricIn.value * hours
  const coolingKWh =
    replay.savedShare === 0 || year.electricPerHeat === 0
      ? 0
      : year.electricPerHeat * replay.lessHeatKW * year.plannedHours
  const energyCost = (savedKWh + coolingKWh) * year.pricePerKWh
  const savedPeakKW =
    replay.peakBeforeKW === null || replay.peakAfterKW === null
      ? null
      : replay.peakBeforeKW - replay.peakAfterKW
  const monthly = demandCostPerMonth(savedPeakKW === null ? null : savedPeakKW * W_PER_KW, site)
  const demandCost = (monthly ?? 0) * MONTHS_PER_YEAR
  const perKWh = (of: number) => (savedKWh === 0 ? 0 : of / savedKWh)
  const parts = perYear(replay, analysis, grounds)
  return {
    savedKWh,
    coolingKWh,
    energyCost,
    demandCost,
    costParts: scaledParts(parts, perKWh(energyCost + demandCost)),
    energyParts: scaledParts(parts, perKWh(savedKWh + coolingKWh)),
  }
}
