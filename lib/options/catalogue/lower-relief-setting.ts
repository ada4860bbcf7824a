import { unloadsAboveBar } from '@/lib/contract/arrangement'
import type { ReliefCurve } from '@/lib/machine/relief'
import { PA_PER_BAR } from '@/lib/units'
import { eachStep } from '../change'
import { leastPressurePa } from '../confirm'
import { highestNeedPa } from '../demand'
import { note, notJudged, type Option, refused } from '../option'
import { cycleTimeChange, toFlow } from '../serve'
import { evenly, refusedSetting, shownOf, triedAlong } from '../settings'
import { asksPa, starvedAt, type Ways, waysOf } from '../starved'
import type { SupplyStep, WorkingStep } from '../supply'
import { ownUnit, unitFlowM3S } from '../unit'

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

/** What the lowered relief passes at a pressure, m³/s. */
const loweredFlow = ({ crackingPa, settingPa, ratedFlowM3S }: ReliefCurve, newPa: number) => {
  const lowerBy = newPa / settingPa
  return (pressurePa: number) =>
    (ratedFlowM3S * Math.max(0, pressurePa - lowerBy * crackingPa)) / (lowerBy * (settingPa - crackingPa))
}

/**
 * Every step with the relief open runs at the new setting: same flow, same crack ratio and override. Where that
 * leaves too little for the load and its way, and in strokes that now open it, oil is lost and the stroke takes longer.
 * @param needPa the most that any load asks for: a moment of a stroke above it, where no load pressure says otherwise, is
 * one on the way from or to an open relief
 */
const lowered = (newPa: number, needPa: number, ways: Ways) =>
  eachStep((model) => {
    const { relief } = model
    const own = ownUnit(model)
    const passes = loweredFlow(relief, newPa)
    const starve = (step: WorkingStep) => {
      const unit = step.unit ?? own
      const comes = step.systemM3S + Math.max(0, step.reliefM3S) - unitFlowM3S(unit, step.loggedPa)
      const settled = starvedAt(step, (pressurePa) => comes + unitFlowM3S(unit, pressurePa), passes, ways)
      if (!(settled.systemM3S < step.systemM3S)) return false
      toFlow(step, settled.systemM3S)
      step.pressurePa = settled.pressurePa
      step.reliefM3S = settled.reliefM3S
      return true
    }
    const isOnTheWay = ({ kind, pressurePa, loadPa }: WorkingStep) =>
      kind === 'work-moving' && Number.isNaN(loadPa) && pressurePa > needPa
    return (step) => {
      const isBetween = isOnTheWay(step)
      if (step.kind === 'work-moving' && !isBetween && passes(step.pressurePa) > 0) starve(step)
      if (!RELIEF_OPEN.has(step.kind) && !isBetween) return
      const lowerPa = Math.min(step.pressurePa, (step.loggedPa * newPa) / relief.settingPa)
      if (step.kind === 'work-metering' && lowerPa < asksPa(step, ways) && starve(step)) return
      step.pressurePa = lowerPa
    }
  })

/** The relief lowered to what the load ever needs plus a margin. */
export const lowerReliefSetting: Option = {
  id: 'lower-relief-setting',
  plan({ machine, supply, ledger, model, rough, duty }, given = {}) {
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
    // A pump that unloads by the line's pressure would never give it up below a relief that opens first.
    const leastForPair = (unloadsAboveBar(machine) * settingPa) / crackingPa
    const lowestBar = Math.max(needPa / PA_PER_BAR + marginBar, leastForPair)
    const settingBar = given.settingBar ?? lowestBar
    const wrong = refusedSetting(given, { marginBar: [0, presentBar], settingBar: [lowestBar, presentBar] })
    if (wrong && lowestBar < presentBar) return refused([wrong], settings)
    if (settingBar >= presentBar) {
      return refused([note('setting-already-lowest', { needBar: needPa / PA_PER_BAR })], {
        ...settings,
        settingBar,
      })
    }
    const ways = waysOf(supply, model.relief)
    const change = lowered(settingBar * PA_PER_BAR, needPa, ways)
    const longer = cycleTimeChange(duty, duty.with(change))
    return {
      judged: true,
      reasons: [],
      settings: { settingBar, marginBar },
      change,
      cycleTimeChangeShare: longer,
      searched: triedAlong(
        'settingBar',
        shownOf(evenly(needPa / PA_PER_BAR, presentBar, SHOWN), settingBar),
        rough,
        (bar) => ({ change: lowered(bar * PA_PER_BAR, needPa, ways), feasible: bar >= lowestBar }),
      ),
      cautions: longer > 1e-6 ? [note('cycle-time-penalty', { share: longer }), ...CAUTIONS] : CAUTIONS,
    }
  },
}
