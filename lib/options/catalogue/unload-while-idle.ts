import { runsOf } from '../demand'
import type { SupplyChange, SupplyStep } from '../supply'

/** Time at full pressure in each idle: waiting, valve and rebuilding pressure (contract default). */
export const UNLOADING_DELAY_S = 0.5

/** Idle-loaded time runs at a low pressure, but for a delay at full pressure in each idle. */
export function unloadWhileIdle(unloadedPa: number, delayS: number): SupplyChange {
  return (supply) => {
    const out: SupplyStep[] = [...supply]
    for (const [first, last] of runsOf(supply, (step) => step.kind === 'idle-loaded')) {
      let loadedS = delayS
      for (let i = first; i <= last; i++) {
        const step = supply[i]
        const fullS = Math.min(loadedS, step.durationS)
        loadedS -= fullS
        // Shaft power is linear in pressure: the time-weighted mean stands for both parts.
        const share = step.durationS > 0 ? fullS / step.durationS : 1
        const unloaded = Math.min(unloadedPa, step.pressurePa)
        out[i] = { ...step, pressurePa: share * step.pressurePa + (1 - share) * unloaded }
      }
    }
    return out
  }
}
