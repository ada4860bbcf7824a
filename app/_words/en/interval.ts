import type { Explanations } from '../explanations'

/** What widens an interval. */
export const parts: Explanations['parts'] = {
  pumpPressureOffset: 'Offset of the pump pressure sensor',
  loadPressureOffset: 'Offset of the load pressure sensor',
  pumpFlowOffset: 'Offset of the pump flow meter',
  systemFlowOffset: 'Offset of the system flow meter',
  returnFlowOffset: 'Offset of the relief return meter',
  caseDrainOffset: 'Offset of the case drain meter',
  currentOffset: 'Offset of the motor current sensor',
  speedOffset: 'Offset of the speed sensor',
  powerOffset: 'Offset of the power meter',
  displacement: 'Pump displacement',
  leakage: 'Pump leakage at rated pressure',
  lossTorque: 'Loss torque of the pump at rated pressure',
  constantShare: 'Share of the pump’s loss torque that is there without pressure',
  noLoadLossShare: 'Share of the motor’s loss that is there without load',
  noLoadCurrent: 'No-load current of the motor',
  form: 'Form of the motor’s current curve',
  voltage: 'Supply voltage',
  ratedLoss: 'Rated loss of the motor',
  reliefLeak: 'Leak of the relief at its setting',
  reliefSetting: 'Setting of the relief',
  reliefSpan: 'Span of the relief from cracking to setting',
  edges: 'Moment, between two samples, at which a phase begins',
  auxiliaries: 'Power of the auxiliaries as entered',
  'pump-states': 'Which pumps fed the line, where no reading tells',
  'hold-or-wait':
    'Stretches at the relief’s pressure that end as the pump is unloaded: a hold, or a wait of the valve',
  'short-idles': 'Stretches at the relief’s pressure so short that they pass for holds: they may be idles',
  'load-or-early-relief': 'Levels that come back alike: a relief that opens early, or a load',
  'worn-pump-or-feed':
    'Oil that never comes back through the return line: a worn pump’s, or one that always feeds something',
  'hold-leakage': 'Leakage into the system while nothing moves, which no meter sees',
  'unread-input': 'Input that was not read: it may be that of any other phase of the same kind',
  'to-and-fro': 'Pressure and flow that go up and down together while pumps change over to and fro',
  'unseen-pumps': 'Pumps that no sensor sees: copies differ by up to 5 %',
  'cycle-spread': 'Spread between cycles',
  'few-cycles': 'Fewer than three cycles logged',
  'planned-hours': 'Hours of the year against the planned ones',
  'energy-price': 'Price of energy over the life against today’s',
  maintenance: 'Upkeep from low to high',
  replay: 'Misfit of the replay itself',
  'option-model': 'Misfit of this option’s own model',
  'nothing-beyond-all': 'Cut: nothing saves more than all there is',
  'relief-line': 'Fit of the relief’s line',
  finding: 'Extent of what was found',
  'pump-fit': 'Fit of pump, motor and meters to the log',
  investment: 'Investment from low to high',
  rest: 'All the rest, each less than a hundredth',
}

/** What would narrow an interval. */
export const remedies: Explanations['remedies'] = {
  'better-sensor': 'A more accurate sensor in the place of this one.',
  'declare-accuracy': 'Enter this sensor’s accuracy: one per cent of the largest reading was assumed.',
  'fit-pump-flow': 'Fit a flow meter at the pump outlet.',
  'fit-power-meter': 'Log real electric power.',
  'fit-relief-return-flow': 'Fit a flow meter in the relief’s return line.',
  'fit-load-pressure': 'Fit a pressure sensor at the load, or log a signal of the cycle.',
  'enter-no-load-current': 'Enter the motor’s no-load current from its data sheet or an uncoupled run.',
  'motor-data-sheet': 'Enter more of the motor’s data sheet: losses and no-load current.',
  'pump-data-sheet': 'Check displacement and efficiencies against the pump’s data sheet or a test.',
  'log-varied-flows': 'Log a stretch in which the relief passes from little to all of the flow.',
  'log-faster': 'Log more samples a second.',
  'log-more-cycles': 'Log more cycles: a whole shift, or several.',
  'confirm-planned-hours': 'Enter on the Site page how far a year may be from the planned hours.',
  'measure-after': 'Measure again once it is done: that proves the saving.',
  'enter-quote': 'Enter a quote for the investment on the Site page.',
  'firm-price':
    'Enter on the Site page how far the price of energy may be from today’s, as a contract fixes it.',
  'enter-upkeep': 'Enter a narrower range for the upkeep on the Site page.',
  'check-valve': 'Check the valve on the machine.',
  'meter-auxiliaries': 'Measure the auxiliaries with a clamp on their own supply and enter their power.',
}

/** What an interval takes as exact. */
export const exact: Explanations['exact'] = {
  'planned-hours': 'planned hours a year',
  'running-hours': 'that the log is typical of the year beyond its cycles',
  price: 'price of energy',
  emission: 'emission factor',
  cooling: 'electricity that cooling takes per heat',
  'discount-rate': 'discount rate',
  life: 'life of the fix',
  'logged-input': 'the logged input that the share is of',
  time: 'the logger’s clock',
}

export const inputSources: Explanations['inputSources'] = {
  sensor: 'sensor, mean',
  nameplate: 'nameplate',
  default: 'default',
  fitted: 'worked out',
  setting: 'setting',
  figure: 'another figure',
}

export const standings: Explanations['standings'] = {
  table: 'from a table',
  'common-practice': 'common practice, no source',
}

/** Numbers of the machine file and values of statements by name; others are spelled from their names. */
export const fields: Explanations['fields'] = {
  'motor.ratedPowerKW': 'Motor, rated output',
  'motor.ratedVoltageV': 'Motor, rated voltage',
  'motor.ratedCurrentA': 'Motor, rated current',
  'motor.ratedPowerFactor': 'Motor, rated power factor',
  'motor.ratedEfficiency': 'Motor, rated efficiency',
  'motor.ratedSpeedRpm': 'Motor, rated speed',
  'motor.poles': 'Motor, poles',
  'motor.frequencyHz': 'Motor, frequency',
  'motor.noLoadCurrentA': 'Motor, no-load current',
  'pump.displacementCm3': 'Pump, displacement',
  'pump.ratedPressureBar': 'Pump, rated pressure',
  'pump.ratedSpeedRpm': 'Pump, rated speed',
  'pump.volumetricEfficiency': 'Pump, volumetric efficiency',
  'pump.overallEfficiency': 'Pump, overall efficiency',
  'relief.settingBar': 'Relief, setting',
  'relief.ratedFlowLpm': 'Relief, rated flow',
}
