import { readerOf } from '@/lib/samples/samples'
import type { Ledger } from './ledger'

const SQRT3 = Math.sqrt(3)

/** Reactive power of a recording sample by sample, and whether the voltage was logged or taken as rated. */
export interface ReactivePower {
  /** var; NaN where a reading is missing. */
  readonly at: (sample: number) => number
  readonly isRatedVoltage: boolean
}

/**
 * Reactive power from current and measured power: √((√3·U·I)² − P²), the definition of apparent power in a balanced
 * three-phase circuit (IEC 60050-131, 131-11-41 and -44, from memory). Null unless current and power, or current and
 * power factor, are logged: a model of the motor is no meter of its power factor.
 */
export function reactivePower({ sensors, plate }: Pick<Ledger, 'sensors' | 'plate'>): ReactivePower | null {
  const { current, power, voltage } = sensors
  if (!current || !power) return null
  const { ratedVoltageV } = plate.motor
  const [volts, amperes, watts] = [
    voltage && readerOf(voltage.values),
    readerOf(current.values),
    readerOf(power.values),
  ]
  const at = (i: number) => {
    const apparentVA = SQRT3 * (volts ? volts.at(i) : ratedVoltageV) * amperes.at(i)
    return Math.sqrt(Math.max(0, apparentVA ** 2 - watts.at(i) ** 2))
  }
  return { at, isRatedVoltage: voltage === null }
}
