import type { MachineModel } from '@/lib/machine/machine-model'
import type { SupplyStep } from './supply'

/** Width of a point in pressure as a share of the relief setting, and in flow as a share of the pump's. */
const PRESSURE_SHARE = 0.01
const FLOW_SHARE = 0.02

/** Quantities of a step that a point holds the time-weighted mean of. */
const MEANS = ['systemM3S', 'loadPa', 'pressurePa', 'loggedPa', 'reliefM3S'] as const

/**
 * Steps that ask for about the same, put together with the time they last: where the order of steps does
 * not matter, a search over these finds what a search over the trace finds. Held against each other in the
 * tests.
 */
export function operatingPoints(supply: readonly SupplyStep[], model: MachineModel): SupplyStep[] {
  const pressureBand = PRESSURE_SHARE * model.relief.settingPa
  const flowBand = FLOW_SHARE * model.pump.ratedFlowM3S
  const points = new Map<string, SupplyStep>()
  for (const step of supply) {
    if (!step.motorOn || step.durationS === 0) continue
    const key = `${step.kind} ${Math.round(step.pressurePa / pressureBand)} ${Math.round(step.systemM3S / flowBand)} ${Math.round(step.peakLoadPa / pressureBand / 2)}`
    const point = points.get(key)
    if (!point) {
      points.set(key, step)
      continue
    }
    const durationS = point.durationS + step.durationS
    const mean = (name: (typeof MEANS)[number]) =>
      point[name] + ((step[name] - point[name]) * step.durationS) / durationS
    points.set(key, {
      ...point,
      durationS,
      peakLoadPa: Math.max(point.peakLoadPa, step.peakLoadPa),
      systemM3S: mean('systemM3S'),
      loadPa: mean('loadPa'),
      pressurePa: mean('pressurePa'),
      loggedPa: mean('loggedPa'),
      reliefM3S: mean('reliefM3S'),
    })
  }
  return [...points.values()]
}
