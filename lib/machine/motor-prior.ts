import type { MotorDeclaration } from '@/lib/contract/machine'
import { noLoadCurrent, noLoadLossShare } from './motor-part-load'
import { ratedPoint } from './motor-plate'

/** Supply voltage against the plate's while none is logged, relative, 1 sd (common practice, no source). */
const SUPPLY_VOLTAGE_SD = 0.008

/** Standard deviations of a motor's deviations from its model before a log is looked at, as in MotorDeviation. */
export interface MotorPrior {
  readonly ratedLoss: number
  readonly noLoadLossShare: number
  readonly noLoadCurrent: number
  readonly voltage: number
}

/** The more the plate says, the narrower: part-load figures tell the no-load ones, an efficiency class tells less than an efficiency. `voltageSd` is that of a logged voltage, relative. */
export function motorPrior(declared: MotorDeclaration, voltageSd = SUPPLY_VOLTAGE_SD): MotorPrior {
  const { plate, ratedLossSd, ratedCurrentSd } = ratedPoint(declared)
  const noLoad = noLoadCurrent(plate)
  return {
    ratedLoss: ratedLossSd,
    noLoadLossShare: noLoadLossShare(plate).sd,
    noLoadCurrent: noLoad.sd / noLoad.value,
    voltage: Math.hypot(voltageSd, ratedCurrentSd),
  }
}
