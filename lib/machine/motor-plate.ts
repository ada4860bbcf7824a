import type { MotorDeclaration, MotorNameplate } from '@/lib/contract/machine'
import type { Note } from '@/lib/contract/result'
import { W_PER_KW } from '@/lib/units'
import { nominalEfficiency, usualEfficiency } from './motor-efficiency'
import { defaultPowerFactor, POWER_FACTOR_LIMIT } from './motor-power-factor'

/** A complete rated point, what had to be assumed for it, and how sure it is. */
export interface RatedPoint {
  readonly plate: MotorNameplate
  /** `assumed-…` statements for what the plate does not say, and contradictions within it. */
  readonly notes: readonly Note[]
  /** Standard deviation of the rated loss, relative. */
  readonly ratedLossSd: number
  /** Standard deviation of the rated current at rated power beyond what any plate has, relative. */
  readonly ratedCurrentSd: number
}

/** Stated efficiencies: tolerance of the standard, seldom used up (IEC 60034-1 allows 15 % of the loss; from memory). */
const STATED_LOSS_SD = 0.04
/** A class is a least value; makers exceed it. */
const CLASS_LOSS_SD = 0.06
/** Without a class: IE1 and IE3 lie about this far from IE2. */
const DEFAULT_LOSS_SD = 0.1
const DEFAULT_CLASS = 'IE2'
/** Half of the last digit of a power factor on a plate, as a standard deviation. */
const POWER_FACTOR_ROUNDING_SD = 0.005 / Math.sqrt(3)
/** Efficiencies and power factors beyond these are no motor's: the plate's other figures contradict. */
const POSSIBLE_EFFICIENCY = [0.6, 0.98] as const
const POSSIBLE_POWER_FACTOR = [0.5, 0.95] as const
/** Rounding and generous plates stay within this. */
const CONTRADICTION_SHARE = 0.1

const within = (value: number, [low, high]: readonly [number, number]) => value >= low && value <= high
const sqrt3Of = ({ ratedVoltageV }: Pick<MotorDeclaration, 'ratedVoltageV'>) => Math.sqrt(3) * ratedVoltageV

interface Taken {
  readonly value: number
  /** Relative standard deviation: of the loss for an efficiency, of itself for a power factor. */
  readonly sd: number
  readonly note: Note | null
}

/** Rated efficiency: stated; of the stated class; from current and power factor; of the usual class. */
function efficiencyOf(motor: MotorDeclaration): Taken {
  const { ratedEfficiency, efficiencyClass, ratedCurrentA, ratedPowerFactor } = motor
  if (ratedEfficiency) return { value: ratedEfficiency, sd: STATED_LOSS_SD, note: null }
  const taken = (value: number, sd: number, code: string, more: Note['values'] = {}): Taken => {
    const lossShare = 1 / value - 1
    const at = (share: number) => 1 / (1 + lossShare * share)
    const band = { efficiency: value, low: at(1 + 1.96 * sd), high: at(1 - 1.96 * sd) }
    return { value, sd, note: { code, values: { ...band, ...more } } }
  }
  if (efficiencyClass) {
    const inTable = nominalEfficiency(efficiencyClass, motor) !== null
    const value = usualEfficiency(efficiencyClass, motor)
    const sd = inTable ? CLASS_LOSS_SD : DEFAULT_LOSS_SD
    return taken(value, sd, 'assumed-efficiency-of-class', { efficiencyClass })
  }
  if (ratedCurrentA && ratedPowerFactor) {
    const value = (motor.ratedPowerKW * W_PER_KW) / (sqrt3Of(motor) * ratedCurrentA * ratedPowerFactor)
    const rounding = POWER_FACTOR_ROUNDING_SD / ratedPowerFactor / (1 - value)
    if (within(value, POSSIBLE_EFFICIENCY)) {
      return taken(value, Math.hypot(STATED_LOSS_SD, rounding), 'assumed-efficiency-from-current')
    }
  }
  const value = usualEfficiency(DEFAULT_CLASS, motor)
  return taken(value, DEFAULT_LOSS_SD, 'assumed-efficiency', { efficiencyClass: DEFAULT_CLASS })
}

/** Rated power factor: stated; from the rated current; usual for size and poles. */
function powerFactorOf(motor: MotorDeclaration, efficiency: number): Taken {
  const { ratedPowerFactor, ratedCurrentA } = motor
  if (ratedPowerFactor) return { value: ratedPowerFactor, sd: 0, note: null }
  if (ratedCurrentA) {
    const value = (motor.ratedPowerKW * W_PER_KW) / (efficiency * sqrt3Of(motor) * ratedCurrentA)
    if (within(value, POSSIBLE_POWER_FACTOR)) {
      return {
        value,
        sd: 0,
        note: { code: 'assumed-power-factor-from-current', values: { powerFactor: value } },
      }
    }
  }
  const value = defaultPowerFactor(motor)
  const values = { powerFactor: value, low: value - POWER_FACTOR_LIMIT, high: value + POWER_FACTOR_LIMIT }
  return { value, sd: POWER_FACTOR_LIMIT / 1.96 / value, note: { code: 'assumed-power-factor', values } }
}

/**
 * The rated point of a motor, gaps filled. Output, voltage, current, power factor and efficiency hold
 * P = √3·U·I·cos φ·η: a missing one follows from the others, and what cannot follow is a stated default.
 */
export function ratedPoint(motor: MotorDeclaration): RatedPoint {
  const efficiency = efficiencyOf(motor)
  const powerFactor = powerFactorOf(motor, efficiency.value)
  const impliedA = (motor.ratedPowerKW * W_PER_KW) / (sqrt3Of(motor) * efficiency.value * powerFactor.value)
  const ratedCurrentA = motor.ratedCurrentA ?? impliedA
  const notes = [efficiency.note, powerFactor.note].filter((note) => note !== null)
  if (motor.ratedCurrentA === undefined)
    notes.push({ code: 'assumed-rated-current', values: { currentA: impliedA } })
  if (Math.abs(ratedCurrentA / impliedA - 1) > CONTRADICTION_SHARE) {
    notes.push({ code: 'motor-plate-contradicts', values: { currentA: ratedCurrentA, impliedA } })
  }
  return {
    plate: {
      ...motor,
      ratedCurrentA,
      ratedPowerFactor: powerFactor.value,
      ratedEfficiency: efficiency.value,
    },
    notes,
    ratedLossSd: efficiency.sd,
    ratedCurrentSd: powerFactor.sd,
  }
}
