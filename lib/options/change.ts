import type { MachineModel } from '@/lib/machine/machine-model'
import type { Duty } from './duty'
import { cutAtAges } from './order'
import { copyOf, type SupplyStep, type WorkingStep } from './supply'

/** A change of one step, whatever comes before and after it: carried out on the step itself. */
export type StepChange = (step: WorkingStep) => void

/** What a change does to every step by itself. */
interface Each {
  readonly each: (model: MachineModel) => StepChange
}

/** What a change does to the steps in their order. */
interface InOrder {
  readonly inOrder: (duty: Duty, model: MachineModel) => Duty
}

export type Part = Each | InOrder

/**
 * A change of the supply; never of the demand. As a function it is carried out on a supply in the log's order.
 * One that knows its parts can be carried out on operating points instead, which comes to the same.
 */
export interface SupplyChange {
  (supply: readonly SupplyStep[], model: MachineModel): SupplyStep[]
  /** What is done one after the other; absent where only the whole supply in its order will do. */
  readonly parts?: readonly Part[]
  /** Ages of an idle at which the change begins or ends, s: no step may be on both sides of one. */
  readonly agesS?: readonly number[]
}

/** A change of every step by itself. */
export function eachStep(
  each: (model: MachineModel) => StepChange,
  agesS: readonly number[] = [],
): SupplyChange {
  const change = (supply: readonly SupplyStep[], model: MachineModel) => {
    const one = each(model)
    return cutAtAges(supply, agesS).map((step) => {
      const changed = copyOf(step)
      one(changed)
      return changed
    })
  }
  return Object.assign(change, { parts: [{ each }], agesS })
}

/** Changes one after the other. */
export function together(changes: readonly SupplyChange[]): SupplyChange {
  const change = (supply: readonly SupplyStep[], model: MachineModel) =>
    changes.reduce<SupplyStep[]>((now, one) => one(now, model), [...supply])
  const parts = changes.flatMap((one) => one.parts ?? [])
  return Object.assign(change, {
    parts: changes.every((one) => one.parts) ? parts : undefined,
    agesS: [...new Set(changes.flatMap((one) => one.agesS ?? []))],
  })
}
