import { NO_DATA, rough } from '../format'

/** Less is rounding, of money and of kWh. */
const LEAST_SHOWN = 0.005

/** A change with its sign. */
export const signed = (value: number | null) => {
  if (value === null) return NO_DATA
  return Math.abs(value) < LEAST_SHOWN ? '0' : `${value > 0 ? '+' : ''}${rough(value)}`
}
