import type { Basis } from '@/lib/contract/estimate'
import type { Location, Quantity } from '@/lib/contract/machine'
import type { OptionId } from '@/lib/contract/result'
import type { Unit } from '@/lib/units'

/** Names of options as headings; reasons and cautions come from app/_words. */
export const OPTION_NAMES: Readonly<Record<OptionId, string>> = {
  'vent-relief-at-idle': 'Vent the relief while idle',
  'open-centre-unloading': 'Unload through an open-centre valve while idle',
  'second-relief-setting': 'Second, lower relief setting for light steps',
  'lower-relief-setting': 'Lower the relief setting',
  'high-low-pumps': 'High–low pump pair',
  'pressure-compensated-pump': 'Pressure-compensated pump',
  'load-sensing-pump': 'Load-sensing pump',
  'variable-speed-drive': 'Variable-speed drive on the pump',
  'accumulator-charging': 'Accumulator with unloading valve',
  'stop-motor-at-idle': 'Stop the motor in long idles',
  'smaller-pump': 'Smaller pump',
  'restore-pump': 'Restore the pump',
  'replace-relief-valve': 'Repair or replace the relief valve',
  'efficient-motor': 'Motor of a higher efficiency class',
}

/** Settings an option reports: name and unit. */
export const SETTING_NAMES: Readonly<Record<string, readonly [string, string]>> = {
  ventBar: ['Vent pressure', 'bar'],
  delayS: ['Time at full pressure in each idle', 's'],
  unloadBar: ['Unloading pressure', 'bar'],
  lowSettingBar: ['Lower setting', 'bar'],
  marginBar: ['Margin above the load', 'bar'],
  settingBar: ['New setting', 'bar'],
  smallPumpCm3: ['Small pump', 'cm³'],
  compensatorBar: ['Compensator pressure', 'bar'],
  minimumSpeedShare: ['Lowest speed, share of rated', ''],
  pumpCm3: ['Pump displacement', 'cm³'],
  lowBar: ['Charging starts at', 'bar'],
  highBar: ['Charging ends at', 'bar'],
  gasLitres: ['Gas volume', 'L'],
  waitS: ['Waiting time before the stop', 's'],
  efficiencyClass: ['Efficiency class', ''],
}

export const QUANTITY_NAMES: Readonly<Record<Quantity, string>> = {
  pressure: 'Pressure',
  flow: 'Flow',
  current: 'Current',
  voltage: 'Voltage',
  power: 'Electric power',
  'power-factor': 'Power factor',
  speed: 'Speed',
  temperature: 'Temperature',
  signal: 'Signal',
}

export const LOCATION_NAMES: Readonly<Record<Location, string>> = {
  'pump-outlet': 'pump outlet',
  load: 'load (at the actuator)',
  'tank-line': 'tank line',
  'system-line': 'system line',
  'relief-return': 'relief return',
  'case-drain': 'case drain',
  'motor-supply': 'motor supply',
  'motor-shaft': 'motor shaft',
  oil: 'oil',
  'cycle-active': 'cycle active',
  idle: 'idle',
  solenoid: 'solenoid',
}

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
