import { runsOf } from '../demand'
import { type SupplyChange, type SupplyStep, splitStep } from '../supply'

/** Time at full pressure in each idle: waiting, valve and rebuilding pressure (contract default). */
export const UNLOADING_DELAY_S = 0.5

/** Idle-loaded time runs at a low pressure, but for a delay at full pressure in each idle. */
export function unloadWhileIdle(unloadedPa: number, delayS: number): SupplyChange {
  return (supply) => {
    const replaced = new Map<number, SupplyStep[]>()
    for (const [first, last] of runsOf(supply, (step) => step.kind === 'idle-loaded')) {
      let loadedS = delayS
      for (let i = first; i <= last; i++) {
        const [loaded, rest] = splitStep(supply[i], loadedS)
        loadedS -= loaded.durationS
        replaced.set(i, [loaded, { ...rest, pressurePa: Math.min(unloadedPa, rest.pressurePa) }])
      }
    }
    return supply.flatMap((step, i) => replaced.get(i) ?? [step])
  }
}
