import { DEFAULT_UNLOADING_BAR } from '@/lib/machine/machine-model'
import { PA_PER_BAR } from '@/lib/units'
import { eachStep } from '../change'
import { note, type OptionContext, type OptionPlan, refused } from '../option'
import { isAsOldAs } from '../order'
import { type Given, refusedSetting, savedShareOf } from '../settings'

/** Time at full pressure in each idle: waiting, valve and rebuilding pressure (contract default). */
const UNLOADING_DELAY_S = 0.5
/** A longer wait at full pressure is no unloading. */
const LONGEST_DELAY_S = 60

/** Where an idle begins is known to about this, or to half a sample: valves and meters follow with a lag (common practice, no source). */
const EDGE_S = 0.15

const CAUTIONS = [
  note('lockout-stored-energy'),
  note('pilot-supply-lost-when-vented'),
  note('raised-load-unsupported'),
  note('safety-reassessment'),
  note('qualified-person'),
]

/** Idle-loaded time runs at a low pressure, but for a delay at full pressure in each idle. */
const unloadWhileIdle = (unloadedPa: number, delayS: number) =>
  eachStep(
    () => (step) => {
      if (step.kind !== 'idle-loaded' || !isAsOldAs(step.order.loadedAgeS, delayS)) return
      step.pressurePa = Math.min(unloadedPa, step.pressurePa)
    },
    [delayS],
  )

/**
 * The plan of either way to unload a fixed pump while idle. `setting` names the unloading pressure in the
 * option's settings; it is the machine's own where its file gives one.
 */
export function planUnloading(
  { machine, supply, model, ledger, roughAt }: OptionContext,
  setting: string,
  given: Given = {},
): OptionPlan {
  const unloadedBar = given[setting] ?? machine.unloading.pressureBar ?? DEFAULT_UNLOADING_BAR
  const delayS = given.delayS ?? UNLOADING_DELAY_S
  const settings = { [setting]: unloadedBar, delayS }
  if (machine.pump.kind !== 'fixed') return refused([note('pump-already-compensated')], settings)
  if (!supply.some((step) => step.kind === 'idle-loaded')) {
    const unloads = supply.some((step) => step.kind === 'idle-unloaded')
    return refused([note(unloads ? 'already-unloads' : 'no-idle-loaded-time')], settings)
  }
  const wrong = refusedSetting(given, {
    [setting]: [0, model.relief.settingPa / PA_PER_BAR],
    delayS: [0, LONGEST_DELAY_S],
  })
  if (wrong) return refused([wrong], settings)
  const edgeS = Math.max(EDGE_S, ledger.trace.sampleIntervalS / 2)
  const change = unloadWhileIdle(unloadedBar * PA_PER_BAR, delayS)
  const others = [Math.max(0, delayS - edgeS), delayS + edgeS]
  const rough = roughAt([delayS, ...others])
  const saved = savedShareOf(rough, rough.with(change))
  const doubts = others.map((otherS) =>
    Math.abs(saved - savedShareOf(rough, rough.with(unloadWhileIdle(unloadedBar * PA_PER_BAR, otherS)))),
  )
  return {
    judged: true,
    reasons: [],
    settings,
    change,
    // On machines that idle loaded for a moment only, the saving hangs on where that moment begins.
    replaySd: Math.max(...doubts),
    cycleTimeChangeShare: 0,
    cautions: CAUTIONS,
  }
}
