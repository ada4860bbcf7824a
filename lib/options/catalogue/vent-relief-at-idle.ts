import { DEFAULT_UNLOADING_BAR } from '@/lib/machine/machine-model'
import { PA_PER_BAR } from '@/lib/units'
import { runsOf } from '../demand'
import { note, type Option, refused } from '../option'
import { UNLOADING_DELAY_S, unloadWhileIdle } from './unload-while-idle'

const CAUTIONS = [
  note('lockout-stored-energy'),
  note('pilot-supply-lost-when-vented'),
  note('raised-load-unsupported'),
  note('safety-reassessment'),
  note('qualified-person'),
]

/**
 * A solenoid on the relief's vent port lets the whole flow to tank at the vent pressure while idle. Only a
 * pilot-operated valve has such a port: a direct-acting one is replaced.
 */
export const ventReliefAtIdle: Option = {
  id: 'vent-relief-at-idle',
  plan({ machine, supply }) {
    const ventBar = machine.unloading.pressureBar ?? DEFAULT_UNLOADING_BAR
    const settings = { ventBar, delayS: UNLOADING_DELAY_S }
    if (machine.pump.kind !== 'fixed') return refused([note('pump-already-compensated')], settings)
    const idles = runsOf(supply, (step) => step.kind === 'idle-loaded')
    if (idles.length === 0) {
      const unloads = supply.some((step) => step.kind === 'idle-unloaded')
      return refused([note(unloads ? 'already-unloads' : 'no-idle-loaded-time')], settings)
    }
    const canBeVented = machine.relief.kind === 'pilot-operated'
    return {
      judged: true,
      reasons: [],
      settings,
      change: unloadWhileIdle(ventBar * PA_PER_BAR, UNLOADING_DELAY_S),
      cycleTimeChangeShare: 0,
      cautions: canBeVented ? CAUTIONS : [note('relief-to-be-replaced'), ...CAUTIONS],
    }
  },
}
