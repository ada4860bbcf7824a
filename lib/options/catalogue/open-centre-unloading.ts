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

/** A directional valve whose centre position passes the pump to tank while no actuator moves. */
export const openCentreUnloading: Option = {
  id: 'open-centre-unloading',
  plan({ machine, supply }) {
    const unloadBar = machine.unloading.pressureBar ?? DEFAULT_UNLOADING_BAR
    const settings = { unloadBar, delayS: UNLOADING_DELAY_S }
    if (machine.pump.kind !== 'fixed') return refused([note('pump-already-compensated')], settings)
    const idles = runsOf(supply, (step) => step.kind === 'idle-loaded')
    if (idles.length === 0) {
      const unloads = supply.some((step) => step.kind === 'idle-unloaded')
      return refused([note(unloads ? 'already-unloads' : 'no-idle-loaded-time')], settings)
    }
    return {
      judged: true,
      reasons: [],
      settings,
      change: unloadWhileIdle(unloadBar * PA_PER_BAR, UNLOADING_DELAY_S),
      cycleTimeChangeShare: 0,
      cautions: CAUTIONS,
    }
  },
}
