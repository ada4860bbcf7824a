import type { MotorNameplate } from '@/lib/contract/machine'
import { W_PER_KW } from '@/lib/units'
import { defaultNoLoadLossShare, NO_LOAD_LOSS_SHARE_LIMIT } from './motor-no-load-loss'
import { defaultNoLoadShare, NO_LOAD_SHARE_LIMIT } from './no-load-current'

/** Where a figure comes from: the plate itself, its part-load figures, or a default by size. */
export type Origin = 'stated' | 'part-load' | 'default'

/** A figure, its standard deviation (the same unit) and where it comes from. */
export interface FigureOf {
  readonly value: number
  readonly sd: number
  readonly origin: Origin
}

const LIMIT_TO_SD = 1 / 1.96
/** How well part-load efficiencies tell the no-load loss: rounding, and that copper loss follows current, not power. */
const PART_LOAD_LOSS_SD = 0.06
/** How well part-load power factors tell the no-load current, as a share of rated current. */
const PART_LOAD_CURRENT_SD = 0.025
/** A stated no-load current: rounding, and the voltage it was measured at; relative. */
const STATED_CURRENT_SD = 0.012
/** Beyond these shares of rated loss and of rated current a motor cannot be: the part-load figures are wrong. */
const POSSIBLE_LOSS_SHARE = [0.1, 0.9] as const
const POSSIBLE_CURRENT_SHARE = [0.15, 0.85] as const

const possible = (value: number, [low, high]: readonly [number, number]) => value >= low && value <= high

/**
 * The constant of y(x) = y_0 + (y_1 − y_0)·x² that fits given points best (least squares), y_1 being known;
 * null without points.
 */
function constantOf(points: readonly (readonly [x: number, y: number])[], rated: number): number | null {
  if (points.length === 0) return null
  let above = 0
  let below = 0
  for (const [x, y] of points) {
    const rest = 1 - x * x
    above += rest * (y - x * x * rated)
    below += rest * rest
  }
  return above / below
}

const pointsOf = (
  at75: number | undefined,
  at50: number | undefined,
  of: (load: number, y: number) => number,
) =>
  (
    [
      [0.75, at75],
      [0.5, at50],
    ] as const
  ).flatMap(([load, y]) => (y === undefined ? [] : [[load, of(load, y)] as const]))

/** The no-load share that the plate's part-load efficiencies imply, possible or not; null without any. */
export function impliedLossShare(plate: MotorNameplate): number | null {
  const rated = 1 / plate.ratedEfficiency - 1
  const lossAt = (load: number, efficiency: number) => load * (1 / efficiency - 1)
  const constant = constantOf(pointsOf(plate.efficiencyAt75, plate.efficiencyAt50, lossAt), rated)
  return constant === null ? null : constant / rated
}

/** Loss without load as a share of rated loss. */
export function noLoadLossShare(plate: MotorNameplate): FigureOf {
  const implied = impliedLossShare(plate)
  return implied !== null && possible(implied, POSSIBLE_LOSS_SHARE)
    ? { value: implied, sd: PART_LOAD_LOSS_SD, origin: 'part-load' }
    : { value: defaultNoLoadLossShare(plate), sd: NO_LOAD_LOSS_SHARE_LIMIT * LIMIT_TO_SD, origin: 'default' }
}

/** The no-load current over rated current that part-load power factors imply, possible or not; null without any. */
export function impliedCurrentShare(plate: MotorNameplate, lossShare: number): number | null {
  const ratedW = plate.ratedPowerKW * W_PER_KW
  const ratedLossW = ratedW * (1 / plate.ratedEfficiency - 1)
  const tangent = (powerFactor: number) => Math.sqrt(1 / powerFactor ** 2 - 1)
  const noLoadW = lossShare * ratedLossW
  const reactiveAt = (load: number, powerFactor: number) =>
    (load * ratedW + noLoadW + (ratedLossW - noLoadW) * load * load) * tangent(powerFactor)
  const points = pointsOf(plate.powerFactorAt75, plate.powerFactorAt50, reactiveAt)
  const reactive = constantOf(points, (ratedW + ratedLossW) * tangent(plate.ratedPowerFactor))
  if (reactive === null) return null
  return Math.hypot(reactive, noLoadW) / (Math.sqrt(3) * plate.ratedVoltageV * plate.ratedCurrentA)
}

/** No-load current, A: as stated, from part-load power factors, or by size and poles. */
export function noLoadCurrent(plate: MotorNameplate, lossShare = noLoadLossShare(plate).value): FigureOf {
  const { noLoadCurrentA, ratedCurrentA } = plate
  if (noLoadCurrentA) {
    return { value: noLoadCurrentA, sd: STATED_CURRENT_SD * noLoadCurrentA, origin: 'stated' }
  }
  const implied = impliedCurrentShare(plate, lossShare)
  return implied !== null && possible(implied, POSSIBLE_CURRENT_SHARE)
    ? { value: implied * ratedCurrentA, sd: PART_LOAD_CURRENT_SD * ratedCurrentA, origin: 'part-load' }
    : {
        value: defaultNoLoadShare(plate) * ratedCurrentA,
        sd: NO_LOAD_SHARE_LIMIT * LIMIT_TO_SD * ratedCurrentA,
        origin: 'default',
      }
}
