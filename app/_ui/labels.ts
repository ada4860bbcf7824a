import type { Basis } from '@/lib/contract/estimate'
import type { Location, Quantity } from '@/lib/contract/machine'
import type { Unit } from '@/lib/units'

export { locations as LOCATION_NAMES, quantities as QUANTITY_NAMES } from '@/app/_words/en/names'
export { options as OPTION_WORDS } from '@/app/_words/en/options'
export { settings as SETTING_NAMES } from '@/app/_words/en/settings'

export const LOCATIONS_OF: Readonly<Record<Quantity, readonly Location[]>> = {
  pressure: ['pump-outlet', 'load', 'tank-line'],
  flow: ['pump-outlet', 'system-line', 'relief-return', 'case-drain'],
  current: ['motor-supply'],
  voltage: ['motor-supply'],
  power: ['motor-supply'],
  'power-factor': ['motor-supply'],
  speed: ['motor-shaft'],
  temperature: ['oil'],
  signal: ['cycle-active', 'idle', 'solenoid'],
}

export const UNITS_OF: Readonly<Record<Quantity, readonly Unit[]>> = {
  pressure: ['bar', 'kPa', 'MPa', 'psi'],
  flow: ['L/min', 'gpm', 'm³/h'],
  current: ['A'],
  voltage: ['V'],
  power: ['kW', 'W', 'hp'],
  'power-factor': ['1'],
  speed: ['rpm'],
  temperature: ['°C', '°F'],
  signal: ['1'],
}

export const BASIS_NAMES: Readonly<Record<Basis, string>> = {
  measured: 'measured',
  estimated: 'estimated',
  default: 'from defaults',
}

/** Marks behind figures in tables; see BasisLegend. */
export const BASIS_MARKS: Readonly<Record<Basis, string>> = { measured: '', estimated: 'e', default: 'd' }
