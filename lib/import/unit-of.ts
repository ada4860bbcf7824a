import type { Quantity } from '@/lib/contract/machine'
import type { Unit } from '@/lib/units'

/** Units each quantity can be logged in. The first is assumed where the range tells nothing. */
export const UNITS_OF: Readonly<Record<Quantity, readonly Unit[]>> = {
  pressure: ['bar', 'psi', 'MPa', 'kPa'],
  flow: ['L/min', 'gpm', 'm³/h'],
  current: ['A'],
  voltage: ['V'],
  power: ['kW', 'W', 'hp'],
  'power-factor': ['1'],
  speed: ['rpm'],
  temperature: ['°C', '°F'],
  signal: ['1'],
}

export function isUnitOf(quantity: Quantity, unit: Unit): boolean {
  return UNITS_OF[quantity].includes(unit) || (quantity === 'signal' && unit === 'V')
}
