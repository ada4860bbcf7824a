import type { LoggingPlanWords } from '../logging-plan'
import { checkLists } from './logging-plan-checks'

const PRESSURE_CHOICE = [
  'A peak damper in its port where a gauge needle trembles.',
  'Hose, test point and adapter rated above the relief setting, with margin for peaks.',
]
const FLOW_CHOICE = [
  'A turbine reads by the oil’s viscosity: have it calibrated near the oil’s grade and warm temperature, or take a gear meter.',
  'Its pressure drop at full flow must not hinder the machine; straight pipe before and after as its maker asks.',
  'Rated for the full pressure of the line, peaks included.',
]
const ELECTRIC_CHOICE = [
  'True effective values; with a drive, a meter that is made for its harmonics.',
  'Measurement category for the place (fixed installation: CAT III at least) and for the voltage.',
]

/** What logging plans are said with, in English. */
export const loggingPlan: LoggingPlanWords = {
  stations: {
    'pressure:pump-outlet': {
      name: 'Pump pressure',
      place: 'test point in the pressure line at the pump outlet, before the relief’s branch',
      serves: 'every power in the oil is this pressure times a flow',
      choose: PRESSURE_CHOICE,
    },
    'pressure:load': {
      name: 'Load pressure',
      place: 'test point at the actuator, on the side that the load presses on; several loads: one each',
      serves: 'parts work from metering and tells a hold from an idle',
      choose: [
        ...PRESSURE_CHOICE,
        'On the rod side of a cylinder that is metered out the pressure can rise above the relief setting by the ratio of the areas: take the range for that.',
      ],
    },
    'pressure:tank-line': {
      name: 'Tank line pressure',
      place: 'test point in the return line, between the relief’s return and filter or cooler',
      serves:
        'takes the back pressure out of the relief’s line, so that its setting is judged by itself; the lines of the account stay',
      choose: ['Surges of the return line reach far beyond its mean: mind the overload limit.'],
    },
    'flow:pump-outlet': {
      name: 'Pump flow',
      place: 'in the pressure line right at the pump, before the relief’s branch',
      serves: 'what the pump gives: its wear, and with a second meter what passes the relief',
      choose: FLOW_CHOICE,
    },
    'flow:system-line': {
      name: 'System flow',
      place: 'in the pressure line after the relief’s branch, before the directional valves',
      serves: 'what the machine takes: the rest goes over the relief or to tank',
      choose: FLOW_CHOICE,
    },
    'flow:relief-return': {
      name: 'Relief return flow',
      place: 'in the relief’s own line to tank, where nothing else joins it',
      serves: 'what goes over the relief, read directly',
      choose: [
        ...FLOW_CHOICE,
        'Never put anything into a relief’s return that could shut it or raise its pressure beyond what the valve’s maker allows.',
      ],
    },
    'flow:case-drain': {
      name: 'Case drain flow',
      place: 'in the pump’s case drain line',
      serves: 'the pump’s own leakage: parts a worn pump from a relief that leaks',
      choose: ['A case stands little pressure: a meter with next to no drop, and none that can block.'],
    },
    'power:motor-supply': {
      name: 'Electric power',
      place: 'all phases at the outgoing side of the motor’s starter',
      serves: 'the electric input itself, whatever the motor’s load',
      choose: [
        ...ELECTRIC_CHOICE,
        'Ratio and direction of every current transformer entered and checked: all three phases alike and positive with the motor loaded.',
      ],
    },
    'current:motor-supply': {
      name: 'Motor current',
      place: 'one phase at the outgoing side of the motor’s starter',
      serves:
        'the input by the motor’s model where no power is measured: good above half load, weak near no load',
      choose: [
        ...ELECTRIC_CHOICE,
        'A range so wide that a start does not overrun it for long, and no wider: the clamp’s zero counts.',
      ],
    },
    'voltage:motor-supply': {
      name: 'Supply voltage',
      place: 'between two phases at the motor’s starter',
      serves: 'sharpens the input that is worked out from current',
      choose: ELECTRIC_CHOICE,
    },
    'speed:motor-shaft': {
      name: 'Shaft speed',
      place: 'reflecting mark on the coupling, sensor on a firm bracket outside the guard',
      serves: 'needed where a drive turns the motor: flow and motor losses follow the speed',
      choose: ['Only with the coupling’s guard in place; nothing reaches in while it turns.'],
    },
    'signal:cycle-active': {
      name: 'Signal: cycle active',
      place: 'an output of the control that is on during a cycle, through a relay or isolator',
      serves: 'tells holds from idles where no load pressure does',
      choose: ['Taken off by a person who may work on the control; nothing may act back on it.'],
    },
    'signal:idle': {
      name: 'Signal: idle',
      place: 'an output of the control that is on while it waits, through a relay or isolator',
      serves: 'tells idles from holds where no load pressure does',
      choose: ['Taken off by a person who may work on the control; nothing may act back on it.'],
    },
    'signal:solenoid': {
      name: 'Signal: solenoid',
      place: 'coil of the valve that moves the load, through a relay or isolator',
      serves: 'tells holds from idles where no load pressure does',
      choose: ['Taken off by a person who may work on the control; nothing may act back on it.'],
    },
  },
  signals: {
    analogue: '4–20 mA, so that a broken wire is seen; wiring note of the 4 and 20 mA points',
    pulses: 'pulses or 4–20 mA; factor of the calibration sheet entered in the logger',
    meter: 'the meter’s own record or 4–20 mA, the same clock as the logger',
    clamp: 'clamp with an output in V or mA; its range switch noted and left alone',
    digital: '24 V digital, isolated; logged as 0 and 1',
  },
  rangeInputs: {
    'relief-setting': 'relief setting',
    'full-flow': 'full flow of all pumps on the line, without leakage',
    leakage: 'leakage of the pump at the relief setting, by its plate',
    'rated-current': 'rated current of the motor',
    'rated-input': 'rated electric input',
    'rated-voltage': 'rated voltage of the motor',
    'synchronous-speed': 'synchronous speed',
    'usual-back-pressure': 'back pressure of filter and cooler',
  },
  missing: {
    'motor.ratedCurrentA': {
      name: 'Motor, rated current',
      unit: 'A',
      where: 'motor plate',
      serves: 'the motor’s current curve',
    },
    'motor.ratedPowerFactor': {
      name: 'Motor, rated power factor',
      unit: 'cos φ',
      where: 'motor plate',
      serves: 'the motor’s current curve',
    },
    'motor.ratedEfficiency': {
      name: 'Motor, rated efficiency or class',
      unit: '% or IE',
      where: 'motor plate',
      serves: 'the motor’s loss',
    },
    'motor.noLoadCurrentA': {
      name: 'Motor, no-load current',
      unit: 'A',
      where: 'data sheet, test record or an uncoupled run',
      serves: 'idle power where it comes from current',
    },
    'motor.efficiencyAt75': {
      name: 'Motor, efficiency at 75 % load',
      unit: '%',
      where: 'motor plate or data sheet',
      serves: 'the motor’s loss at part load',
    },
    'motor.efficiencyAt50': {
      name: 'Motor, efficiency at 50 % load',
      unit: '%',
      where: 'motor plate or data sheet',
      serves: 'the motor’s loss at part load',
    },
    'unloading.pressureBar': {
      name: 'Pressure while unloaded',
      unit: 'bar',
      where: 'gauge at the pump while the machine waits',
      serves: 'what venting can save',
    },
    longestHoldS: {
      name: 'Longest hold in a cycle',
      unit: 's',
      where: 'ask the operator; control’s timer',
      serves: 'tells holds from idles by their length where nothing else does',
    },
    confirmed: {
      name: 'Highest load ever (cold start, jam, largest tool), and what else hangs on the pressure',
      unit: 'bar',
      where: 'operator, maintenance, manual',
      serves: 'asked for before any pressure is lowered',
    },
    cooling: {
      name: 'Cooling of the oil: kind, and its electric power',
      unit: 'kW',
      where: 'plates of fan, pump or chiller',
      serves: 'cooling that is saved with the heat',
    },
  },
  levels: { cycle: ['cycle', 'cycles'], hour: ['hour', 'hours'], day: ['day', 'days'] },
  shifts: { early: 'Early', late: 'Late', night: 'Night' },
  checkLists,
}
