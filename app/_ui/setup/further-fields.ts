import { type FieldSpec, MACHINE_GROUPS } from './fields'

/** Lists of MACHINE.json that hold what there is beside the first motor and pump. */
export const FURTHER_KEYS = ['furtherPumps', 'furtherSets', 'auxiliaries'] as const
export type FurtherKey = (typeof FURTHER_KEYS)[number]

export interface FurtherList {
  readonly key: FurtherKey
  readonly title: string
  readonly about: string
  /** One of them, for buttons. */
  readonly one: string
  readonly fields: readonly FieldSpec[]
}

const fieldsOf = (prefix: string) =>
  MACHINE_GROUPS.flatMap(({ fields }) => fields).filter(({ path }) => path.startsWith(`${prefix}.`))

const PUMP_FIELDS = fieldsOf('pump').filter(({ path }) => path !== 'pump.kind')

/** In a set everything may be left out: it is then like the first. */
const ofSet = (spec: FieldSpec): FieldSpec => ({
  ...spec,
  label: `${spec.path.startsWith('motor.') ? 'Motor' : 'Pump'}: ${spec.label.toLowerCase()}`,
  optional: true,
  choices:
    spec.choices && (spec.choices[0][0] === '' ? spec.choices : [['', 'As the first'], ...spec.choices]),
})

export const FURTHER_LISTS: readonly FurtherList[] = [
  {
    key: 'furtherPumps',
    title: 'Further pumps on the same shaft',
    about:
      'Pumps that the first motor turns as well. One that feeds the machine’s line is of the first pump’s kind; one with a circuit of its own (pilot oil, a gear pump) counts with its fixed pressure.',
    one: 'pump',
    fields: [
      ...PUMP_FIELDS.map((spec) => ({ ...spec, path: spec.path.slice('pump.'.length) })),
      {
        path: 'outlet.pressureBar',
        label: 'Pressure of its own circuit',
        unit: 'bar',
        help: 'Left out, it feeds the machine’s line.',
        optional: true,
      },
      {
        path: 'unloadsAboveBar',
        label: 'Goes to tank above',
        unit: 'bar',
        help: 'The large pump of a high–low pair: above this pressure of the line its flow goes to tank at the unloading pressure.',
        optional: true,
      },
    ],
  },
  {
    key: 'furtherSets',
    title: 'Further motors with pumps',
    about:
      'Sets on the same line and the same electric meter. All are taken to run together: one meter cannot tell which do.',
    one: 'set',
    fields: [
      {
        path: 'count',
        label: 'How many alike',
        unit: '',
        help: 'Leave the entries below empty for sets like the first.',
      },
      ...fieldsOf('motor').map(ofSet),
      ...PUMP_FIELDS.map(ofSet),
    ],
  },
  {
    key: 'auxiliaries',
    title: 'Auxiliaries on the same meter',
    about:
      'Cooler, filter loop, heater, control: what the power or current sensor reads beside the motors. It is taken off before the account and shown beside it.',
    one: 'auxiliary',
    fields: [
      { path: 'name', label: 'Name', unit: '', help: 'Cooler, filter loop …', isText: true },
      {
        path: 'powerKW',
        label: 'Electric power',
        unit: 'kW',
        help: 'Input while it runs; for one that cycles, its mean.',
      },
      {
        path: 'when',
        label: 'Runs',
        unit: '',
        help: 'What runs all the time shows at rest; the rest has to be believed.',
        choices: [
          ['always', 'Always'],
          ['motor-running', 'While the motor runs'],
        ],
      },
      {
        path: 'accuracyPercent',
        label: 'Known within ±',
        unit: '%',
        help: '10 % if left out.',
        optional: true,
      },
      {
        path: 'powerFactor',
        label: 'Power factor',
        unit: '0–1',
        help: '0.8 if left out; needed where only current is logged.',
        optional: true,
      },
    ],
  },
]
