import type { Estimate } from '@/lib/contract/estimate'
import { fullFlowM3S, type MachineModel } from '@/lib/machine/machine-model'
import { PA_PER_BAR } from '@/lib/units'
import { basisOf, estimate } from './estimates'
import type { Ledger } from './ledger'
import { spreadOf } from './parameter-spread'
import { modelWith } from './parameters'

/** The pump's volumetric efficiency at a pressure: seen in the log, and as the nameplate has it. */
export interface VolumetricEfficiency {
  readonly pressureBar: number
  readonly seen: Estimate
  readonly nameplate: number
}

/** Below this share of rated pressure a pump's leakage hardly shows. */
const LEAST_PRESSURE_SHARE = 0.3
const LEAST_STEP_S = 1

/**
 * With a meter in the system line alone, what leaks past the relief's seat cannot be told from what leaks in the
 * pump: both are counted, and known together far better than either.
 */
export const countsReliefLeak = ({ sensors }: Ledger) => !sensors.pumpFlow && !sensors.returnFlow

/** Oil that is lost between sweeping and the meter at a pressure, m³/s. */
export const lostM3S = ({ pump, relief }: MachineModel, withRelief: boolean, pressurePa: number) =>
  pump.leakageM3S(pressurePa) + (withRelief ? relief.leakPerPa * pressurePa : 0)

/** Flow over what the nameplate's displacement sweeps at the speed the load leaves the motor (ISO 4391). */
function volumetricEfficiency(
  model: MachineModel,
  plate: MachineModel,
  withRelief: boolean,
  pressurePa: number,
): number {
  const speed = model.motor.speedRadS(model.pump.torqueNm(pressurePa))
  const beside = lostM3S(model, withRelief, pressurePa) - model.pump.leakageM3S(pressurePa)
  return (fullFlowM3S(model, pressurePa) - beside) / plate.pump.theoreticalM3S(pressurePa, speed)
}

/** Highest pressure at which the pump gave all its flow to the system with the relief shut, Pa; NaN if never. */
function highestMovingPa({ segmentation }: Ledger): number {
  let highest = Number.NaN
  for (const { kind, durationS, means } of segmentation.steps) {
    const higher = !(means.pumpPressurePa <= highest)
    if (kind === 'work-moving' && durationS >= LEAST_STEP_S && higher) highest = means.pumpPressurePa
  }
  return highest
}

/**
 * Volumetric efficiency at the rated pressure and at the highest one seen with the relief shut. Empty where no
 * flow meter sees what the pump gives.
 */
export function volumetricEfficiencies(ledger: Ledger): VolumetricEfficiency[] {
  const { pumpFlow, systemFlow, returnFlow } = ledger.sensors
  if (!ledger.model.isFixed || !(pumpFlow || systemFlow || returnFlow)) return []
  const { machine } = ledger
  const plate = modelWith(machine, new Float64Array(ledger.values.length))
  const ratedPa = machine.pump.ratedPressureBar * PA_PER_BAR
  const pressures = [highestMovingPa(ledger), ratedPa].filter((pa) => pa > LEAST_PRESSURE_SHARE * ratedPa)
  const withRelief = countsReliefLeak(ledger)
  const seen = (model: MachineModel) =>
    pressures.map((pa) => volumetricEfficiency(model, plate, withRelief, pa))
  const sds = spreadOf(ledger, (values) => seen(modelWith(machine, values)))
  const basis = pumpFlow ? 'measured' : basisOf(ledger, 'intoSystem') === 'default' ? 'default' : 'estimated'
  return seen(ledger.model).map((value, k) => ({
    pressureBar: pressures[k] / PA_PER_BAR,
    seen: estimate(value, sds[k], basis),
    nameplate: volumetricEfficiency(plate, plate, false, pressures[k]),
  }))
}
