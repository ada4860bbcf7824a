import { hasUnloadingPump } from '@/lib/contract/arrangement'
import { PA_PER_BAR } from '@/lib/units'
import { leastPressurePa } from '../confirm'
import { highestNeedPa } from '../demand'
import { note, notJudged, type Option, refused } from '../option'
import type { SupplyChange, SupplyStep } from '../supply'

/** Pump pressure above the highest load, about 250 psi: as quoted in the project's check values. */
const MARGIN_BAR = 17
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
  return (supply) =>
    supply.map((step): SupplyStep => {
      switch (step.kind) {
        case 'work-moving':
          return { ...step, pressurePa: Math.min(step.pressurePa, asked(step)) }
        case 'work-metering':
          return { ...step, pressurePa: Math.min(step.pressurePa, asked(step)), reliefM3S: 0, stroke: 'part' }
        case 'work-holding': {
          const pressurePa = Math.min(step.pressurePa, asked(step))
          return { ...step, pressurePa, reliefM3S: 0, systemM3S: 0, stroke: 'part' }
        }
        case 'idle-loaded':
        case 'idle-unloaded':
          // With closed centres and nothing asked for, both kinds of idle become a dead-headed standby.
          return {
            ...step,
            kind: 'idle-loaded',
            pressurePa: standbyPa,
            reliefM3S: 0,
            systemM3S: 0,
            stroke: 'part',
          }
        default:
          return step
      }
    })
}

/** A pump that gives the flow asked for at a margin above the load's own pressure. */
export const loadSensingPump: Option = {
  id: 'load-sensing-pump',
  plan({ machine, ledger, supply, model }) {
    const settings = { marginBar: MARGIN_BAR }
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
    return {
      judged: true,
      reasons: [],
      settings,
      change: loadSensing(MARGIN_BAR * PA_PER_BAR, limiterPa),
      cycleTimeChangeShare: 0,
      cautions: CAUTIONS,
    }
  },
}
