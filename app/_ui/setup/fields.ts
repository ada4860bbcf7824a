/** One entry of the machine's set-up: where it stands in MACHINE.json, its unit, and where to find it. */
export interface FieldSpec {
  readonly path: string
  readonly label: string
  readonly unit: string
  readonly help: string
  readonly optional?: boolean
  readonly choices?: readonly (readonly [string, string])[]
}

export interface FieldGroup {
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
      { path: 'motor.ratedCurrentA', label: 'Rated current', unit: 'A', help: 'At the voltage above.' },
      {
        path: 'motor.ratedPowerFactor',
        label: 'Rated power factor',
        unit: '0–1',
        help: 'cos φ on the plate.',
      },
      { path: 'motor.ratedEfficiency', label: 'Rated efficiency', unit: '0–1', help: '92 % is 0.92.' },
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
]
