import { hasUnloadingPump } from '@/lib/contract/arrangement'
import { PA_PER_BAR } from '@/lib/units'
import { eachStep, type SupplyChange } from '../change'
import { leastPressurePa } from '../confirm'
import { highestNeedPa } from '../demand'
import { note, notJudged, type Option, refused } from '../option'
import { evenly, refusedSetting, shownOf, triedAlong } from '../settings'
import type { SupplyStep, WorkingStep } from '../supply'

/** Pump pressure above the highest load, about 250 psi: as quoted in the project's check values. */
const MARGIN_BAR = 17
/** Margins that load-sensing pumps can be set to (common practice, no source), and how many of them are shown. */
const MARGIN_RANGE_BAR = [10, 40] as const
const SHOWN = 13
/** Below this the standby of a load-sensing pump may hunt: as quoted in the project's check values. */
const LEAST_STANDBY_BAR = 15
/** Its pressure limiter works this much below the relief, as a compensator does (contract default). */
const BELOW_RELIEF_BAR = 10

const CAUTIONS = [
  note('confirm-unlogged-loads'),
  note('load-sensing-line'),
  note('lockout-stored-energy'),
  note('safety-reassessment'),
  note('qualified-person'),
]

/**
 * Pump pressure is the load's plus the margin, never above the limiter; flow is what is asked for. Dead-headed
 * it keeps its standby pressure, with leakage and loss torque of full stroke.
 */
export function loadSensing(marginPa: number, limiterPa: number): SupplyChange {
  const standbyPa = Math.max(marginPa, LEAST_STANDBY_BAR * PA_PER_BAR)
  const asked = (step: SupplyStep) =>
    Math.min(limiterPa, Number.isNaN(step.loadPa) ? limiterPa : Math.max(standbyPa, step.loadPa + marginPa))
  const strokeBack = (step: WorkingStep, pressurePa: number) => {
    step.pressurePa = pressurePa
    step.reliefM3S = 0
    step.stroke = 'part'
  }
  return eachStep(() => (step) => {
    switch (step.kind) {
      case 'work-moving':
        step.pressurePa = Math.min(step.pressurePa, asked(step))
        return
      case 'work-metering':
        strokeBack(step, Math.min(step.pressurePa, asked(step)))
        return
      case 'work-holding':
        strokeBack(step, Math.min(step.pressurePa, asked(step)))
        step.systemM3S = 0
        return
      case 'idle-loaded':
      case 'idle-unloaded':
        // With closed centres and nothing asked for, both kinds of idle become a dead-headed standby.
        strokeBack(step, standbyPa)
        step.kind = 'idle-loaded'
        step.systemM3S = 0
    }
  })
}

/** A pump that gives the flow asked for at a margin above the load's own pressure. */
export const loadSensingPump: Option = {
  id: 'load-sensing-pump',
  plan({ machine, ledger, supply, model, rough }, given = {}) {
    const marginBar = given.marginBar ?? MARGIN_BAR
    const settings = { marginBar }
    if (machine.pump.kind === 'load-sensing') return refused([note('pump-already-load-sensing')], settings)
    if (hasUnloadingPump(machine)) return notJudged(note('several-pumps'), settings)
    if (!ledger.sensors.loadPressure) return notJudged(note('needs-load-pressure'), settings)
    const limiterPa = model.relief.settingPa - BELOW_RELIEF_BAR * PA_PER_BAR
    const seen = supply.filter((step) => !Number.isNaN(step.loadPa))
    const needPa = leastPressurePa(machine, highestNeedPa(seen))
    if (needPa === 0) return notJudged(note('no-work-logged'), settings)
    if (needPa > limiterPa) {
      return refused([note('pressure-not-met', { needBar: needPa / PA_PER_BAR })], settings)
    }
    const wrong = refusedSetting(given, { marginBar: MARGIN_RANGE_BAR })
    if (wrong) return refused([wrong], settings)
    const [least, most] = MARGIN_RANGE_BAR
    return {
      judged: true,
      reasons: [],
      settings,
      change: loadSensing(marginBar * PA_PER_BAR, limiterPa),
      cycleTimeChangeShare: 0,
      searched: triedAlong('marginBar', shownOf(evenly(least, most, SHOWN), marginBar), rough, (bar) => ({
        change: loadSensing(bar * PA_PER_BAR, limiterPa),
        feasible: true,
      })),
      cautions: CAUTIONS,
    }
  },
}
