import { PA_PER_BAR } from '@/lib/units'
import { leastPressurePa } from '../confirm'
import { highestNeedPa } from '../demand'
import { note, notJudged, type Option, refused } from '../option'
import type { SupplyChange, SupplyStep } from '../supply'

/** Room between the highest load and the new setting (contract default). */
const MARGIN_BAR = 10

const CAUTIONS = [
  note('confirm-unlogged-loads'),
  note('setting-below-weakest-component'),
  note('safety-reassessment'),
  note('qualified-person'),
]

const RELIEF_OPEN: ReadonlySet<SupplyStep['kind']> = new Set(['work-metering', 'work-holding', 'idle-loaded'])

/** Every step with the relief open runs at the new setting: same flow, same crack ratio and override. */
function lowered(newPa: number): SupplyChange {
  return (supply, { relief: { settingPa } }) =>
    supply.map((step) =>
      RELIEF_OPEN.has(step.kind)
        ? { ...step, pressurePa: Math.min(step.pressurePa, (step.loggedPa * newPa) / settingPa) }
        : step,
    )
}

/** The relief lowered to what the load ever needs plus a margin. */
export const lowerReliefSetting: Option = {
  id: 'lower-relief-setting',
  plan({ machine, supply, ledger }) {
    const settings = { settingBar: null, marginBar: MARGIN_BAR }
    if (machine.pump.kind !== 'fixed') return refused([note('pump-already-compensated')], settings)
    if (!supply.some((step) => RELIEF_OPEN.has(step.kind))) {
      return refused([note('nothing-over-relief')], settings)
    }
    const needPa = leastPressurePa(machine, highestNeedPa(supply))
    if (Number.isNaN(needPa)) return notJudged(note('needs-load-pressure'), settings)
    if (needPa <= 0) return notJudged(note('no-work-logged'), settings)
    const settingBar = needPa / PA_PER_BAR + MARGIN_BAR
    const { settingPa, crackingPa } = ledger.curve
    if (settingBar * PA_PER_BAR >= settingPa) {
      return refused([note('setting-already-lowest', { needBar: needPa / PA_PER_BAR })], {
        ...settings,
        settingBar,
      })
    }
    const cracksAtPa = (settingBar * PA_PER_BAR * crackingPa) / settingPa
    const slowed = supply.some((step) => step.kind === 'work-moving' && step.pressurePa > cracksAtPa)
    return {
      judged: true,
      reasons: [],
      settings: { settingBar, marginBar: MARGIN_BAR },
      change: lowered(settingBar * PA_PER_BAR),
      cycleTimeChangeShare: 0,
      cautions: slowed ? [note('cycle-time-penalty'), ...CAUTIONS] : CAUTIONS,
    }
  },
}
