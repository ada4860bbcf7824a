import type { Machine } from '@/lib/contract/machine'
import { machineModel } from '@/lib/machine/machine-model'
import { ratedPoint } from '@/lib/machine/motor-plate'
import { longestHoldOf } from '@/lib/phases/holds'
import { PA_PER_BAR } from '@/lib/units'

/** Fields of the machine file that may be missing, and what they serve where no interval shows it. */
export const MISSING_FIELDS = [
  'motor.ratedCurrentA',
  'motor.ratedPowerFactor',
  'motor.ratedEfficiency',
  'motor.noLoadCurrentA',
  'motor.efficiencyAt75',
  'motor.efficiencyAt50',
  'unloading.pressureBar',
  'longestHoldS',
  'confirmed',
  'cooling',
] as const
export type MissingField = (typeof MISSING_FIELDS)[number]

export interface MissingDatum {
  readonly field: MissingField
  /** What stands in for it meanwhile; null where nothing does. */
  readonly assumed: number | null
  /** The machine as it would be known with it; null where no interval answers to it. */
  readonly filled: Machine | null
}

const rounded = (value: number) => Number(value.toPrecision(4))

/** What the machine's set-up does not say, in the order in which plates are read. */
export function missingData(machine: Machine): MissingDatum[] {
  const { motor, unloading } = machine
  const model = machineModel({ ...machine, furtherSets: undefined })
  const { plate } = ratedPoint(motor)
  const withMotor = (more: Partial<Machine['motor']>): Machine => ({
    ...machine,
    motor: { ...motor, ...more },
  })
  const efficiencyAt = (share: number) => {
    const shaftW = share * model.motor.ratedShaftW
    return rounded(shaftW / (shaftW + model.motor.lossW(shaftW)))
  }
  const found: (MissingDatum | false)[] = [
    motor.ratedCurrentA === undefined && {
      field: 'motor.ratedCurrentA',
      assumed: plate.ratedCurrentA,
      filled: withMotor({ ratedCurrentA: rounded(plate.ratedCurrentA) }),
    },
    motor.ratedPowerFactor === undefined && {
      field: 'motor.ratedPowerFactor',
      assumed: plate.ratedPowerFactor,
      filled: withMotor({ ratedPowerFactor: rounded(plate.ratedPowerFactor) }),
    },
    motor.ratedEfficiency === undefined && {
      field: 'motor.ratedEfficiency',
      assumed: plate.ratedEfficiency,
      filled: withMotor({ ratedEfficiency: rounded(plate.ratedEfficiency) }),
    },
    motor.noLoadCurrentA === undefined && {
      field: 'motor.noLoadCurrentA',
      assumed: model.motor.noLoadCurrentA,
      filled: withMotor({ noLoadCurrentA: rounded(model.motor.noLoadCurrentA) }),
    },
    ...([75, 50] as const).map((percent): MissingDatum | false => {
      const name = `efficiencyAt${percent}` as const
      if (motor[name] !== undefined) return false
      const value = efficiencyAt(percent / 100)
      // The part-load efficiencies of a plate belong to a rated one.
      const filled = withMotor({ ratedEfficiency: rounded(plate.ratedEfficiency), [name]: value })
      return { field: `motor.${name}`, assumed: value, filled }
    }),
    unloading.kind !== 'none' &&
      unloading.pressureBar === undefined && {
        field: 'unloading.pressureBar',
        assumed: model.unloadingPa / PA_PER_BAR,
        filled: null,
      },
    machine.longestHoldS === undefined && {
      field: 'longestHoldS',
      assumed: longestHoldOf(machine),
      filled: null,
    },
    machine.confirmed === undefined && { field: 'confirmed', assumed: null, filled: null },
    machine.cooling === undefined && { field: 'cooling', assumed: null, filled: null },
  ]
  return found.filter((one) => one !== false)
}
