import { DEFAULT_UNLOADING_BAR } from '@/lib/machine/machine-model'
import { PA_PER_BAR } from '@/lib/units'
import { runsOf } from '../demand'
import { note, type OptionContext, type OptionPlan, refused } from '../option'
import { type SupplyChange, type SupplyStep, splitStep } from '../supply'

/** Time at full pressure in each idle: waiting, valve and rebuilding pressure (contract default). */
const UNLOADING_DELAY_S = 0.5

const CAUTIONS = [
  note('lockout-stored-energy'),
  note('pilot-supply-lost-when-vented'),
  note('raised-load-unsupported'),
  note('safety-reassessment'),
  note('qualified-person'),
]

/** Idle-loaded time runs at a low pressure, but for a delay at full pressure in each idle. */
function unloadWhileIdle(unloadedPa: number, delayS: number): SupplyChange {
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

/**
 * The plan of either way to unload a fixed pump while idle. `setting` names the unloading pressure in the
 * option's settings; it is the machine's own where its file gives one.
 */
export function planUnloading({ machine, supply }: OptionContext, setting: string): OptionPlan {
  const unloadedBar = machine.unloading.pressureBar ?? DEFAULT_UNLOADING_BAR
  const settings = { [setting]: unloadedBar, delayS: UNLOADING_DELAY_S }
  if (machine.pump.kind !== 'fixed') return refused([note('pump-already-compensated')], settings)
  if (!supply.some((step) => step.kind === 'idle-loaded')) {
    const unloads = supply.some((step) => step.kind === 'idle-unloaded')
    return refused([note(unloads ? 'already-unloads' : 'no-idle-loaded-time')], settings)
  }
  return {
    judged: true,
    reasons: [],
    settings,
    change: unloadWhileIdle(unloadedBar * PA_PER_BAR, UNLOADING_DELAY_S),
    cycleTimeChangeShare: 0,
    cautions: CAUTIONS,
  }
}
