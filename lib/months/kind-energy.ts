import { ACCOUNT_KEYS } from '@/lib/ledger/account-series'
import type { MonthTotals } from './rollup'

/** Sums over phases of one kind; a long log has tens of thousands. */
export interface KindEnergy {
  seconds: number
  /** In the order of ACCOUNT_KEYS. */
  readonly energyJ: Float64Array
}

export const noEnergy = (): KindEnergy => ({ seconds: 0, energyJ: new Float64Array(ACCOUNT_KEYS.length) })

/** Adds a piece of a phase. */
export function addPiece(to: KindEnergy, seconds: number, energiesJ: ArrayLike<number>): void {
  to.seconds += seconds
  for (let k = 0; k < energiesJ.length; k++) to.energyJ[k] += energiesJ[k]
}

/** The sums as rows of months name them; null where some of it could not be separated. */
export function energyRow({
  energyJ,
}: KindEnergy): Omit<MonthTotals, 'month' | 'phaseKind' | 'seconds' | 'cost' | 'cycles'> {
  const at = (name: (typeof ACCOUNT_KEYS)[number]) => energyJ[ACCOUNT_KEYS.indexOf(name)]
  const separable = (name: 'metering' | 'work') => (Number.isNaN(at(name)) ? null : at(name))
  return {
    electricJ: at('electricIn'),
    motorLossJ: at('motorLoss'),
    pumpLossJ: at('pumpLoss'),
    overReliefJ: at('overRelief'),
    unloadingJ: at('unloading'),
    intoSystemJ: at('intoSystem'),
    meteringJ: separable('metering'),
    workJ: separable('work'),
    unaccountedJ: at('unaccounted'),
  }
}
