import { hasUnloadingPump } from '@/lib/contract/arrangement'
import { PA_PER_BAR } from '@/lib/units'
import { eachStep } from '../change'
import { leastPressurePa } from '../confirm'
import { highestNeedPa } from '../demand'
import { note, notJudged, type Option, refused } from '../option'
import { evenly, refusedSetting, shownOf, triedAlong } from '../settings'

/** The compensator works this much below the relief setting, so that the relief stays closed (contract default). */
const BELOW_RELIEF_BAR = 10
/** Pressures shown between what the loads need and the highest. */
const SHOWN = 13

const CAUTIONS = [
  note('confirm-unlogged-loads'),
  note('lockout-stored-energy'),
  note('safety-reassessment'),
  note('qualified-person'),
]

/** Flow follows demand at compensator pressure; at full demand the load sets the pressure as before. */
const compensated = (compensatorPa: number) =>
  eachStep(() => (step) => {
    const deadHeaded = step.kind === 'work-holding' || step.kind === 'idle-loaded'
    if (!deadHeaded && step.kind !== 'work-metering') return
    step.pressurePa = compensatorPa
    step.reliefM3S = 0
    step.stroke = 'part'
    if (deadHeaded) step.systemM3S = 0
  })

/** A pump that strokes back to the flow asked for at the compensator's pressure. */
export const pressureCompensatedPump: Option = {
  id: 'pressure-compensated-pump',
  plan({ machine, supply, ledger, rough }, given = {}) {
    const highestBar = ledger.curve.settingPa / PA_PER_BAR - BELOW_RELIEF_BAR
    const compensatorPa = (given.compensatorBar ?? highestBar) * PA_PER_BAR
    const settings = { compensatorBar: compensatorPa / PA_PER_BAR }
    if (machine.pump.kind !== 'fixed') return refused([note('pump-already-compensated')], settings)
    if (hasUnloadingPump(machine)) return notJudged(note('several-pumps'), settings)
    if (!supply.some((step) => step.reliefM3S > 0)) return refused([note('nothing-over-relief')], settings)
    const known = supply.filter((step) => step.kind !== 'work-metering' || !Number.isNaN(step.loadPa))
    const loggedPa = highestNeedPa(known)
    const needPa = leastPressurePa(machine, loggedPa)
    const needBar = needPa / PA_PER_BAR
    // Without a known need nobody can say that less pressure would do.
    const lowestBar = Number.isNaN(needBar) ? highestBar : Math.min(needBar, highestBar)
    const wrong = refusedSetting(given, { compensatorBar: [lowestBar, highestBar] })
    if (wrong) return refused([wrong], settings)
    if (needPa > compensatorPa) {
      const seen = ledger.sensors.loadPressure !== null || needPa > loggedPa
      if (!seen) return notJudged(note('needs-load-pressure'), settings)
      return refused([note('pressure-not-met', { needBar })], settings)
    }
    return {
      judged: true,
      reasons: [],
      settings,
      change: compensated(compensatorPa),
      cycleTimeChangeShare: 0,
      searched: triedAlong(
        'compensatorBar',
        shownOf(evenly(lowestBar, highestBar, SHOWN), compensatorPa / PA_PER_BAR),
        rough,
        (bar) => ({ change: compensated(bar * PA_PER_BAR), feasible: true }),
      ),
      cautions: CAUTIONS,
    }
  },
}
