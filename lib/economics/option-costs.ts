import type { Machine } from '@/lib/contract/machine'
import { OPTION_IDS, type OptionId } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import type { Triangle } from './draws'

/** Parts and labour as a fixed sum plus a sum per kW of the motor's rated output, in the site's currency. */
interface Placeholder {
  readonly fixed: Triangle
  readonly perKW: Triangle
}

/**
 * Placeholders, not prices: orders of magnitude for a unit of the motor's size, installed, so that a
 * first list can show money at all. Common practice, no source, and the same number whatever the
 * currency. A quote in the site's `optionCosts` takes their place.
 */
const PLACEHOLDERS: Readonly<Record<OptionId, Placeholder>> = {
  'vent-relief-at-idle': { fixed: [600, 900, 1500], perKW: [0, 0, 0] },
  'open-centre-unloading': { fixed: [800, 1300, 2200], perKW: [5, 10, 20] },
  'second-relief-setting': { fixed: [700, 1100, 1800], perKW: [0, 0, 0] },
  'lower-relief-setting': { fixed: [100, 200, 400], perKW: [0, 0, 0] },
  'high-low-pumps': { fixed: [2000, 3000, 5000], perKW: [60, 90, 150] },
  'pressure-compensated-pump': { fixed: [2000, 3000, 4500], perKW: [80, 120, 200] },
  'load-sensing-pump': { fixed: [3500, 5500, 9000], perKW: [100, 160, 260] },
  'variable-speed-drive': { fixed: [2500, 3500, 5500], perKW: [120, 180, 280] },
  'accumulator-charging': { fixed: [3500, 5500, 9000], perKW: [60, 100, 180] },
  'stop-motor-at-idle': { fixed: [500, 900, 1800], perKW: [10, 20, 40] },
  'smaller-pump': { fixed: [800, 1200, 2000], perKW: [40, 60, 100] },
  'restore-pump': { fixed: [600, 1000, 1800], perKW: [30, 50, 90] },
  'replace-relief-valve': { fixed: [400, 700, 1200], perKW: [5, 10, 15] },
  'efficient-motor': { fixed: [500, 700, 1100], perKW: [70, 100, 150] },
}

export interface Investment {
  /** Low, likely, high in the site's currency. */
  readonly cost: [low: number, likely: number, high: number]
  /** True where the cost is a shipped placeholder and not the site's own figure. */
  readonly isPlaceholder: boolean
}

/** What an option costs on a machine: the site's own figure, else the shipped placeholder. */
export function investmentOf(id: OptionId, machine: Machine, site: Site): Investment {
  const own = site.optionCosts[id]
  if (own) return { cost: [...own], isPlaceholder: false }
  const { fixed, perKW } = PLACEHOLDERS[id]
  const ratedKW = machine.motor.ratedPowerKW
  const at = (i: 0 | 1 | 2) => fixed[i] + perKW[i] * ratedKW
  return { cost: [at(0), at(1), at(2)], isPlaceholder: true }
}

const NO_CHANGE: Triangle = [0, 0, 0]

/** More upkeep a year than now, by the site's own word, else none. */
export const maintenanceOf = (id: OptionId, site: Site): Triangle => site.optionMaintenance[id] ?? NO_CHANGE

/** Years that an option is reckoned to last. */
export const lifetimeOf = (id: OptionId, site: Site) => site.optionLifetimeYears[id] ?? site.lifetimeYears

/** Keys of the site's costs, upkeep and lives by option that are no option: a typing mistake would else pass unseen. */
export function unknownOptionCosts(site: Site): string[] {
  const keys = [site.optionCosts, site.optionMaintenance, site.optionLifetimeYears].flatMap(Object.keys)
  return [...new Set(keys)].filter((id) => !OPTION_IDS.some((known) => known === id))
}
