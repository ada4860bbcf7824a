import type { Dictionary } from '../dictionary'

export const phaseKinds: Dictionary['phaseKinds'] = {
  stopped: 'Stopped',
  starting: 'Starting',
  'idle-unloaded': 'Idle, unloaded',
  'idle-loaded': 'Idle, loaded',
  'work-moving': 'Work, moving',
  'work-metering': 'Work, metering',
  'work-holding': 'Work, holding',
}

export const phaseClasses: Dictionary['phaseClasses'] = { off: 'Off', idle: 'Idle', work: 'Work' }

export const streams: Dictionary['streams'] = {
  electricIn: 'Electric input',
  motorLoss: 'Motor loss',
  pumpLoss: 'Pump loss',
  overRelief: 'Over relief',
  unloading: 'Unloading',
  intoSystem: 'Into the system',
  metering: 'Metering',
  work: 'Work',
  unaccounted: 'Unaccounted',
}

/** The same words in the machine's set-up, on its page and in what is said of a level. */
export const levels: Dictionary['levels'] = {
  runningPowerKW: 'Motor runs above this input',
  runningCurrentA: 'Motor runs above this current',
  unloadedBelowBar: 'Pump unloaded below',
  standbyBelowBar: 'Load-sensing pump on standby below',
  reliefOpensBar: 'Relief opens from',
  deadHeadFromBar: 'Dead-headed from',
  deadHeadBar: 'Whole flow over the relief at',
  noFlowShare: 'No actuator moves below',
  fullFlowShare: 'Whole flow into the system above',
}

export const quantities: Dictionary['quantities'] = {
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

export const locations: Dictionary['locations'] = {
  'pump-outlet': 'pump outlet',
  load: 'loaded actuator',
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
