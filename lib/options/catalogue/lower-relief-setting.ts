import { PA_PER_BAR } from '@/lib/units'
import { eachStep } from '../change'
import { leastPressurePa } from '../confirm'
import { highestNeedPa } from '../demand'
import { note, notJudged, type Option, refused } from '../option'
import { evenly, refusedSetting, shownOf, triedAlong } from '../settings'
import type { SupplyStep } from '../supply'

/** Room between the highest load and the new setting (contract default). */
const MARGIN_BAR = 10
/** Settings shown between what the loads need and the present one. */
const SHOWN = 13

const CAUTIONS = [
  note('confirm-unlogged-loads'),
  note('setting-below-weakest-component'),
  note('safety-reassessment'),
  note('qualified-person'),
]

const RELIEF_OPEN: ReadonlySet<SupplyStep['kind']> = new Set(['work-metering', 'work-holding', 'idle-loaded'])

/** Every step with the relief open runs at the new setting: same flow, same crack ratio and override. */
const lowered = (newPa: number) =>
  eachStep(({ relief: { settingPa } }) => (step) => {
    if (!RELIEF_OPEN.has(step.kind)) return
    step.pressurePa = Math.min(step.pressurePa, (step.loggedPa * newPa) / settingPa)
  })

/** The relief lowered to what the load ever needs plus a margin. */
export const lowerReliefSetting: Option = {
  id: 'lower-relief-setting',
  plan({ machine, supply, ledger, rough }, given = {}) {
    const marginBar = given.marginBar ?? MARGIN_BAR
    const settings = { settingBar: null, marginBar }
    if (machine.pump.kind !== 'fixed') return refused([note('pump-already-compensated')], settings)
    if (!supply.some((step) => RELIEF_OPEN.has(step.kind))) {
      return refused([note('nothing-over-relief')], settings)
    }
    const needPa = leastPressurePa(machine, highestNeedPa(supply))
    if (Number.isNaN(needPa)) return notJudged(note('needs-load-pressure'), settings)
    if (needPa <= 0) return notJudged(note('no-work-logged'), settings)
    const { settingPa, crackingPa } = ledger.curve
    const presentBar = settingPa / PA_PER_BAR
    const lowestBar = needPa / PA_PER_BAR + marginBar
    const settingBar = given.settingBar ?? lowestBar
    const wrong = refusedSetting(given, { marginBar: [0, presentBar], settingBar: [lowestBar, presentBar] })
    if (wrong && lowestBar < presentBar) return refused([wrong], settings)
    if (settingBar >= presentBar) {
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
      settings: { settingBar, marginBar },
      change: lowered(settingBar * PA_PER_BAR),
      cycleTimeChangeShare: 0,
      searched: triedAlong(
        'settingBar',
        shownOf(evenly(needPa / PA_PER_BAR, presentBar, SHOWN), settingBar),
        rough,
        (bar) => ({ change: lowered(bar * PA_PER_BAR), feasible: bar >= lowestBar }),
      ),
      cautions: slowed ? [note('cycle-time-penalty'), ...CAUTIONS] : CAUTIONS,
    }
  },
}
