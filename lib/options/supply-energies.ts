import type { MachineModel } from '@/lib/machine/machine-model'
import { type SupplyStep, supplyElectricJ, supplyElectricW, supplyShaftW } from './supply'

/** Model energies of the logged supply, step by step, J. */
export interface LoggedEnergies {
  readonly supply: readonly SupplyStep[]
  readonly electricJ: Float64Array
  readonly shaftJ: Float64Array
  readonly sumElectricJ: number
  readonly sumShaftJ: number
}

/** Electric energy of a supply by the model, J. */
export const electricOfSupplyJ = (supply: readonly SupplyStep[], model: MachineModel) =>
  supply.reduce((sum, step) => sum + supplyElectricJ(step, model), 0)

/** Energies of the logged supply, in which every step stands at its own index. */
export function energiesOf(supply: readonly SupplyStep[], model: MachineModel): LoggedEnergies {
  const electricJ = new Float64Array(supply.length)
  const shaftJ = new Float64Array(supply.length)
  let sumElectricJ = 0
  let sumShaftJ = 0
  supply.forEach((step, k) => {
    const shaftW = supplyShaftW(step, model)
    shaftJ[k] = step.durationS * shaftW
    electricJ[k] = (step.motorOn ? step.durationS * supplyElectricW(step, model, shaftW) : 0) + step.extraJ
    sumElectricJ += electricJ[k]
    sumShaftJ += shaftJ[k]
  })
  return { supply, electricJ, shaftJ, sumElectricJ, sumShaftJ }
}

/** Hands out every step of a changed supply with its energies; what the change left alone is not reckoned again. */
export function eachEnergy(
  changed: readonly SupplyStep[],
  logged: LoggedEnergies,
  model: MachineModel,
  visit: (step: SupplyStep, electricJ: number, shaftJ: number) => void,
): void {
  for (const step of changed) {
    if (logged.supply[step.step] === step) {
      visit(step, logged.electricJ[step.step], logged.shaftJ[step.step])
      continue
    }
    const shaftW = supplyShaftW(step, model)
    const electricW = step.motorOn ? supplyElectricW(step, model, shaftW) : 0
    visit(step, step.durationS * electricW + step.extraJ, step.durationS * shaftW)
  }
}
