import { hasUnloadingPump } from '@/lib/contract/arrangement'
import { PA_PER_BAR } from '@/lib/units'
import { leastPressurePa } from '../confirm'
import { highestNeedPa } from '../demand'
import { note, notJudged, type Option, refused } from '../option'
import type { SupplyChange } from '../supply'

/** The compensator works this much below the relief setting, so that the relief stays closed (contract default). */
const BELOW_RELIEF_BAR = 10

const CAUTIONS = [
  note('confirm-unlogged-loads'),
  note('lockout-stored-energy'),
  note('safety-reassessment'),
  note('qualified-person'),
]

/** Flow follows demand at compensator pressure; at full demand the load sets the pressure as before. */
function compensated(compensatorPa: number): SupplyChange {
  return (supply) =>
    supply.map((step) => {
      switch (step.kind) {
        case 'work-metering':
          return { ...step, pressurePa: compensatorPa, reliefM3S: 0, stroke: 'part' }
        case 'work-holding':
        case 'idle-loaded':
          return { ...step, pressurePa: compensatorPa, reliefM3S: 0, systemM3S: 0, stroke: 'part' }
        default:
          return step
      }
    })
}

/** A pump that strokes back to the flow asked for at the compensator's pressure. */
export const pressureCompensatedPump: Option = {
  id: 'pressure-compensated-pump',
  plan({ machine, supply, ledger }) {
    const compensatorPa = ledger.curve.settingPa - BELOW_RELIEF_BAR * PA_PER_BAR
    const settings = { compensatorBar: compensatorPa / PA_PER_BAR }
    if (machine.pump.kind !== 'fixed') return refused([note('pump-already-compensated')], settings)
    if (hasUnloadingPump(machine)) return notJudged(note('several-pumps'), settings)
    if (!supply.some((step) => step.reliefM3S > 0)) return refused([note('nothing-over-relief')], settings)
    const known = supply.filter((step) => step.kind !== 'work-metering' || !Number.isNaN(step.loadPa))
    const loggedPa = highestNeedPa(known)
    const needPa = leastPressurePa(machine, loggedPa)
    if (needPa > compensatorPa) {
      const seen = ledger.sensors.loadPressure !== null || needPa > loggedPa
      if (!seen) return notJudged(note('needs-load-pressure'), settings)
      return refused([note('pressure-not-met', { needBar: needPa / PA_PER_BAR })], settings)
    }
    return {
      judged: true,
      reasons: [],
      settings,
      change: compensated(compensatorPa),
      cycleTimeChangeShare: 0,
      cautions: CAUTIONS,
    }
  },
}
