import { CONFIRMED_GROUP, COOLING_GROUP } from './confirmed-fields'
import { LEVEL_GROUP } from './level-fields'

/** One entry of the machine's set-up: where it stands in MACHINE.json, its unit, and where to find it. */
export interface FieldSpec {
  readonly path: string
  readonly label: string
  readonly unit: string
  readonly help: string
  readonly optional?: boolean
  /** A name, not a number. */
  readonly isText?: boolean
  readonly choices?: readonly (readonly [string, string])[]
}

export interface FieldGroup {
  /** For links from other pages. */
  readonly id?: string
  readonly title: string
  readonly about: string
  readonly fields: readonly FieldSpec[]
}

export const MACHINE_GROUPS: readonly FieldGroup[] = [
  {
    title: 'Motor',
    about: 'From the motor’s nameplate.',
    fields: [
      { path: 'motor.ratedPowerKW', label: 'Rated output', unit: 'kW', help: 'Shaft power, not input.' },
      {
        path: 'motor.ratedVoltageV',
        label: 'Rated voltage',
        unit: 'V',
        help: 'Between phases, as connected.',
      },
      {
        path: 'motor.ratedCurrentA',
        label: 'Rated current',
        unit: 'A',
        help: 'At the voltage above. Left out, it follows from the figures below.',
        optional: true,
      },
      {
        path: 'motor.ratedPowerFactor',
        label: 'Rated power factor',
        unit: '0–1',
        help: 'cos φ on the plate. Left out, one usual for the size stands in.',
        optional: true,
      },
      {
        path: 'motor.ratedEfficiency',
        label: 'Rated efficiency',
        unit: '0–1',
        help: '92 % is 0.92. Left out, that of its class stands in.',
        optional: true,
      },
      {
        path: 'motor.efficiencyClass',
        label: 'Efficiency class',
        unit: '',
        help: 'For a plate without a rated efficiency.',
        optional: true,
        choices: [
          ['', 'Not known'],
          ['IE1', 'IE1'],
          ['IE2', 'IE2'],
          ['IE3', 'IE3'],
          ['IE4', 'IE4'],
        ],
      },
      {
        path: 'motor.ratedSpeedRpm',
        label: 'Rated speed',
        unit: 'rpm',
        help: 'Below synchronous: 1467, not 1500.',
      },
      {
        path: 'motor.poles',
        label: 'Poles',
        unit: '',
        help: '2, 4, 6 …: 4 poles at 50 Hz run just below 1500 rpm.',
      },
      { path: 'motor.frequencyHz', label: 'Frequency', unit: 'Hz', help: '50 or 60.' },
      {
        path: 'motor.noLoadCurrentA',
        label: 'No-load current',
        unit: 'A',
        help: 'From the data sheet or measured uncoupled. The first thing to ask for: a wrong default moves idle power most.',
        optional: true,
      },
      {
        path: 'motor.efficiencyAt75',
        label: 'Efficiency at ¾ load',
        unit: '0–1',
        help: 'From the data sheet. Tells the loss without load.',
        optional: true,
      },
      {
        path: 'motor.efficiencyAt50',
        label: 'Efficiency at ½ load',
        unit: '0–1',
        help: 'From the data sheet.',
        optional: true,
      },
      {
        path: 'motor.powerFactorAt75',
        label: 'Power factor at ¾ load',
        unit: '0–1',
        help: 'From the data sheet. Tells the no-load current where that is not known.',
        optional: true,
      },
      {
        path: 'motor.powerFactorAt50',
        label: 'Power factor at ½ load',
        unit: '0–1',
        help: 'From the data sheet.',
        optional: true,
      },
      {
        path: 'motor.drive.meter',
        label: 'Drive (frequency converter)',
        unit: '',
        help: 'Where the motor already has one: on which side of it power or current is logged. Log the speed too.',
        optional: true,
        choices: [
          ['', 'None: on the mains'],
          ['before-drive', 'Meter before the drive'],
          ['after-drive', 'Meter between drive and motor'],
        ],
      },
      {
        path: 'motor.drive.ratedPowerKW',
        label: 'Drive’s rated output',
        unit: 'kW',
        help: 'Left out, the motor’s.',
        optional: true,
      },
    ],
  },
  {
    title: 'Pump',
    about: 'From the pump’s type plate and data sheet.',
    fields: [
      {
        path: 'pump.kind',
        label: 'Kind',
        unit: '',
        help: 'Fixed gives the same flow at any pressure.',
        choices: [
          ['fixed', 'Fixed displacement'],
          ['pressure-compensated', 'Pressure-compensated'],
          ['load-sensing', 'Load-sensing'],
        ],
      },
      {
        path: 'pump.displacementCm3',
        label: 'Displacement',
        unit: 'cm³/rev',
        help: 'Geometric, per revolution.',
      },
      {
        path: 'pump.ratedPressureBar',
        label: 'Rated pressure',
        unit: 'bar',
        help: 'At which the efficiencies hold.',
      },
      {
        path: 'pump.ratedSpeedRpm',
        label: 'Rated speed',
        unit: 'rpm',
        help: 'At which the efficiencies hold.',
      },
      {
        path: 'pump.volumetricEfficiency',
        label: 'Volumetric efficiency',
        unit: '0–1',
        help: 'Flow ÷ (displacement × speed) at rated pressure.',
      },
      {
        path: 'pump.overallEfficiency',
        label: 'Overall efficiency',
        unit: '0–1',
        help: 'Hydraulic power out ÷ shaft power in; below the volumetric.',
      },
    ],
  },
  {
    title: 'Relief valve',
    about: 'The system relief at the pump outlet.',
    fields: [
      {
        path: 'relief.kind',
        label: 'Kind',
        unit: '',
        help: 'Pilot-operated opens near its setting, direct-acting earlier.',
        choices: [
          ['pilot-operated', 'Pilot-operated'],
          ['direct-acting', 'Direct-acting'],
        ],
      },
      { path: 'relief.settingBar', label: 'Setting', unit: 'bar', help: 'Pressure at rated flow, as set.' },
      {
        path: 'relief.ratedFlowLpm',
        label: 'Rated flow',
        unit: 'L/min',
        help: 'Flow the setting refers to.',
      },
    ],
  },
  {
    title: 'Unloading and cycle',
    about: 'What the pump does while no actuator moves, and what counts as a hold.',
    fields: [
      {
        path: 'unloading.kind',
        label: 'Unloading',
        unit: '',
        help: 'None: idle oil goes over the relief at full pressure.',
        choices: [
          ['none', 'None'],
          ['vented-relief', 'Vented relief'],
          ['open-centre', 'Open-centre valve'],
        ],
      },
      {
        path: 'unloading.pressureBar',
        label: 'Unloading pressure',
        unit: 'bar',
        help: 'Pump pressure while unloaded, if known.',
        optional: true,
      },
      {
        path: 'longestHoldS',
        label: 'Longest hold',
        unit: 's',
        help: 'A dead-headed stretch right after work and shorter than this is a hold, longer is idle. 15 s if left out.',
        optional: true,
      },
    ],
  },
  CONFIRMED_GROUP,
  COOLING_GROUP,
  LEVEL_GROUP,
]
