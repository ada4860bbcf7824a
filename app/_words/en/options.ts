import type { Dictionary } from '../dictionary'

export const options: Dictionary['options'] = {
  'vent-relief-at-idle': {
    title: 'Vent the relief while idle',
    whatItIs:
      'A solenoid valve on the relief’s vent port lets the whole flow back to tank at low pressure whenever nothing moves.',
  },
  'open-centre-unloading': {
    title: 'Unload through an open-centre valve while idle',
    whatItIs:
      'A directional valve with an open centre leads the whole flow to tank at low pressure while it stands in the middle.',
  },
  'second-relief-setting': {
    title: 'Second, lower relief setting for light steps',
    whatItIs:
      'A second pilot, chosen by a solenoid, sets the relief lower during the steps whose load does not need the full pressure.',
  },
  'lower-relief-setting': {
    title: 'Lower the relief setting',
    whatItIs: 'The relief is turned down to what the heaviest load ever needs, plus a margin.',
  },
  'high-low-pumps': {
    title: 'High–low pump pair',
    whatItIs:
      'A small pump does the high-pressure work; a large one helps at low pressure and unloads above a set pressure.',
  },
  'pressure-compensated-pump': {
    title: 'Pressure-compensated pump',
    whatItIs:
      'A variable pump gives only the flow that is taken and holds its set pressure; nothing passes the relief.',
  },
  'load-sensing-pump': {
    title: 'Load-sensing pump',
    whatItIs: 'A variable pump gives the flow that is taken at a small margin above the load’s own pressure.',
  },
  'variable-speed-drive': {
    title: 'Variable-speed drive on the pump',
    whatItIs: 'A frequency converter slows motor and pump down to the flow that is needed.',
  },
  'accumulator-charging': {
    title: 'Accumulator with unloading valve',
    whatItIs:
      'A smaller pump charges an accumulator between two pressures and unloads in between; the accumulator covers the peaks.',
  },
  'stop-motor-at-idle': {
    title: 'Stop the motor in long idles',
    whatItIs:
      'The control stops the motor after a waiting time and starts it again before work, within the starts the motor allows.',
  },
  'smaller-pump': {
    title: 'Smaller pump',
    whatItIs: 'A pump of smaller displacement gives what the work needs; less flow is left over.',
  },
  'restore-pump': {
    title: 'Restore the pump',
    whatItIs: 'A worn pump is overhauled or replaced, so that its leakage is that of a new one again.',
  },
  'replace-relief-valve': {
    title: 'Repair or replace the relief valve',
    whatItIs:
      'A valve that opens too early or leaks below its cracking pressure is cleaned, repaired or replaced.',
  },
  'efficient-motor': {
    title: 'Motor of a higher efficiency class',
    whatItIs: 'A motor of the same rating in a higher class of IEC 60034-30-1 takes the old one’s place.',
  },
}
