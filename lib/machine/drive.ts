import type { MotorDeclaration } from '@/lib/contract/machine'
import { W_PER_HP, W_PER_KW } from '@/lib/units'
import { ratedPoint } from './motor-plate'

/** Output as a share of rated output, of the columns below. */
const OUTPUT_SHARES = [0.125, 0.25, 0.42, 0.5, 0.75, 1] as const

/** US DOE, motor tip sheet 11 (2012): rated hp, then drive efficiency at the shares above. */
const EFFICIENCY: readonly (readonly [hp: number, at: readonly number[]])[] = [
  [10, [0.83, 0.9, 0.93, 0.94, 0.95, 0.96]],
  [20, [0.86, 0.93, 0.94, 0.95, 0.96, 0.97]],
  [30, [0.88, 0.93, 0.95, 0.95, 0.96, 0.97]],
  [50, [0.86, 0.92, 0.95, 0.95, 0.96, 0.97]],
  [100, [0.89, 0.94, 0.95, 0.96, 0.97, 0.97]],
]

/** Value at `x` on straight lines between points that rise in x; beyond the ends the end's value. */
function between(xs: readonly number[], ys: readonly number[], x: number): number {
  if (x <= xs[0]) return ys[0]
  const high = xs.findIndex((at) => at >= x)
  if (high < 0) return ys[ys.length - 1]
  const part = (x - xs[high - 1]) / (xs[high] - xs[high - 1])
  return ys[high - 1] + part * (ys[high] - ys[high - 1])
}

/** Efficiency of a drive for a motor of this size at an output share within the table, by interpolation. */
export function driveEfficiency(ratedHp: number, outputShare: number): number {
  return between(
    EFFICIENCY.map(([hp]) => hp),
    EFFICIENCY.map(([, at]) => between(OUTPUT_SHARES, at, outputShare)),
    ratedHp,
  )
}

export interface DriveModel {
  /** Loss of the drive at an electric output, W. */
  lossW(outputW: number): number
  /** Electric output at an input, W; nil at and below what the drive takes without load. */
  outputW(inputW: number): number
}

/** Steps of the table that turns input into output. */
const STEPS = 256
/** Rounds that settle one of its entries to 1e-9: the loss is a small part. */
const ROUNDS = 8
/** Beyond this share of rated output the drive's loss goes on in proportion. */
const REACH = 2

/**
 * Frequency converter for a motor, of the motor's rating or its own. Below the table's lowest output its loss
 * stays what it is there: fans, electronics and switching do not vanish with the load (common practice, no source).
 */
export function driveModel(motor: MotorDeclaration): DriveModel {
  const ratedKW = motor.drive?.ratedPowerKW ?? motor.ratedPowerKW
  const ratedHp = (ratedKW * W_PER_KW) / W_PER_HP
  const ratedOutputW = (ratedKW * W_PER_KW) / ratedPoint(motor).plate.ratedEfficiency
  const efficiencies = OUTPUT_SHARES.map((share) => driveEfficiency(ratedHp, share))
  const leastW = OUTPUT_SHARES[0] * ratedOutputW * (1 / efficiencies[0] - 1)
  const lossW = (outputW: number) => {
    const share = outputW / ratedOutputW
    if (share <= OUTPUT_SHARES[0]) return leastW
    return outputW * (1 / between(OUTPUT_SHARES, efficiencies, share) - 1)
  }
  const stepW = (REACH * ratedOutputW) / STEPS
  // Output over input by equal steps of input; input rises with output throughout the table.
  let outputs: Float64Array | null = null
  const turnedRound = () => {
    const table = new Float64Array(STEPS + 1)
    let outputW = 0
    for (let k = 0; k <= STEPS; k++) {
      const inputW = leastW + k * stepW
      for (let n = 0; n < ROUNDS; n++) outputW = Math.max(0, inputW - lossW(outputW))
      table[k] = outputW
    }
    return table
  }
  return {
    lossW,
    outputW: (inputW) => {
      const place = (inputW - leastW) / stepW
      if (!(place > 0)) return 0
      outputs ??= turnedRound()
      const k = Math.min(Math.floor(place), STEPS - 1)
      return outputs[k] + (place - k) * (outputs[k + 1] - outputs[k])
    },
  }
}
