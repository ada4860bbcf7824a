import type { Result } from '@/lib/contract/result'

/** One step of the curve: its place along the energy saved, and what a kWh of it costs. */
export interface CurveStep {
  readonly option: Result['marginalCostCurve'][number]['option']
  readonly fromKWh: number
  readonly toKWh: number
  readonly addedKWh: number
  readonly costPerSavedKWh: number | null
}

export interface CostCurve {
  readonly steps: readonly CurveStep[]
  readonly wholeKWh: number
  /** The mean price that a kWh costs now; null without a saving to tell it from. */
  readonly pricePerKWh: number | null
}

/** Steps of the best set one after the other along the energy that they add. */
export function costCurve({
  marginalCostCurve,
  options,
}: Pick<Result, 'marginalCostCurve' | 'options'>): CostCurve {
  let done = 0
  const steps = marginalCostCurve.map(({ option, savedKWhPerYear, costPerSavedKWh }): CurveStep => {
    const fromKWh = done
    done += Math.max(0, savedKWhPerYear)
    return { option, fromKWh, toKWh: done, addedKWh: savedKWhPerYear, costPerSavedKWh }
  })
  const told = options.find(({ savedKWhPerYear }) => savedKWhPerYear && savedKWhPerYear.value > 0)
  const energy = (told?.savedKWhPerYear?.value ?? 0) + (told?.savedCoolingKWhPerYear?.value ?? 0)
  const pricePerKWh = told?.savedCostPerYear && energy > 0 ? told.savedCostPerYear.value / energy : null
  return { steps, wholeKWh: done, pricePerKWh }
}
