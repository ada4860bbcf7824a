import type { MotorSize } from '@/lib/contract/machine'

/**
 * Loss without load as a share of rated loss, where no part-load efficiency is known: a + b·ln(kW), by least
 * squares from the part-load curves of the US DOE's load estimation guidance (30 to 80 % load, 7.5 to 70 kW of
 * rated input) with the domain's 0.45 ± 0.2 as prior; tests/lib/machine/motor-no-load-loss.test.ts works it out.
 */
const AT_ONE_KW = 0.572
const PER_LOG_KW = -0.0447
/** The curves' smallest and largest motor, rated output in kW; beyond them the ends hold. */
const SMALLEST_KW = 6.7
const LARGEST_KW = 65

/** 95 % of motors lie within this of the default share (domain rule). */
export const NO_LOAD_LOSS_SHARE_LIMIT = 0.2

/** The share that a motor of this size is expected to have. */
export function defaultNoLoadLossShare({ ratedPowerKW }: Pick<MotorSize, 'ratedPowerKW'>): number {
  return AT_ONE_KW + PER_LOG_KW * Math.log(Math.min(Math.max(ratedPowerKW, SMALLEST_KW), LARGEST_KW))
}
