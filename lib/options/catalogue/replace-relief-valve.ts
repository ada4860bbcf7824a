import { reliefFit } from '@/lib/ledger/relief-findings'
import { HEALTHY_CRACK_RATIO, type ReliefCurve, reliefFlowM3S, reliefSlope } from '@/lib/machine/relief'
import { M3S_PER_LPM } from '@/lib/units'
import { eachStep } from '../change'
import { note, type Option, refused } from '../option'
import { cycleTimeChange, toFlow } from '../serve'
import { refusedSetting } from '../settings'
import type { SupplyStep, WorkingStep } from '../supply'

/** A load this far below the pump is held back by a flow control, which then sets the flow. */
const THROTTLED_SHARE = 0.2
/** What a leaking valve passes counts as lost up to this share of a stroke's flow; without a load pressure, more is what a flow control leaves over. */
const MOST_LOST_SHARE = 0.5

/** No relief holds tight nearer to its setting (common practice, no source). */
const MOST_CRACK_RATIO = 0.98

/** Where the new valve will crack, and what part of the flow was a leak, moves the result by about this share of the input. */
const REPLAY_SD = 0.01

const CAUTIONS = [
  note('lockout-stored-energy'),
  note('setting-below-weakest-component'),
  note('hot-oil'),
  note('qualified-person'),
]

/** Whether the valve's flow is lost to the stroke, or only what a flow control leaves over. */
const isThrottled = (step: SupplyStep) =>
  step.kind === 'work-metering' &&
  !Number.isNaN(step.loadPa) &&
  step.pressurePa - step.loadPa > THROTTLED_SHARE * step.pressurePa

interface Mending {
  /** Flow of the leak over pressure, m³/s per Pa. */
  readonly leakPerPa: number
  /** What the old valve passes beside its leak. */
  readonly old: ReliefCurve
  /** The sound valve, set to the same pressure with its rated flow passing. */
  readonly sound: ReliefCurve
}

/**
 * The log's line holds leak and opening together; without the leak the valve cracks later. A valve that still
 * cracks early is replaced by one that cracks where the worst sound one of its kind does.
 */
function mendingOf(fitted: ReliefCurve, healthyRatio: number, leakPerPa: number): Mending {
  const crackingPa = Math.min(
    fitted.crackingPa / Math.max(0.1, 1 - leakPerPa * reliefSlope(fitted)),
    MOST_CRACK_RATIO * fitted.settingPa,
  )
  const soundPa = Math.max(crackingPa, healthyRatio * fitted.settingPa)
  return {
    leakPerPa,
    old: { ...fitted, crackingPa },
    sound: { ...fitted, crackingPa: soundPa },
  }
}

function mend(step: WorkingStep, fitted: ReliefCurve, { leakPerPa, old, sound }: Mending): void {
  const moves = (step.kind === 'work-moving' || step.kind === 'work-metering') && !isThrottled(step)
  if (moves && step.pressurePa < sound.crackingPa) {
    const passed =
      step.kind === 'work-metering'
        ? Math.max(0, step.reliefM3S)
        : leakPerPa * step.pressurePa + reliefFlowM3S(old, step.pressurePa)
    const most = MOST_LOST_SHARE * step.systemM3S
    if (passed <= most || !Number.isNaN(step.loadPa)) {
      const lost = Math.min(passed, most)
      step.reliefM3S = Math.max(0, step.reliefM3S - lost)
      toFlow(step, step.systemM3S + lost)
      return
    }
  }
  if (!(step.reliefM3S > 0) || step.kind === 'idle-unloaded' || step.kind === 'work-moving') return
  // The same flow over a valve with a shorter span: a higher pressure, up to where both lines meet.
  const shortM3S = Math.max(0, fitted.ratedFlowM3S - step.reliefM3S)
  step.pressurePa += shortM3S * (reliefSlope(fitted) - reliefSlope(sound))
}

/** A relief that opens no earlier than its kind should and does not leak; strokes get the oil it lost. */
const replaced = (healthyRatio: number, leakPerPa: number) =>
  eachStep(({ relief }) => {
    const mending = mendingOf(relief, healthyRatio, leakPerPa)
    return (step) => {
      if (step.motorOn && !Number.isNaN(step.pressurePa)) mend(step, relief, mending)
    }
  })

/** A sound valve in the place of one that the log shows to crack early or to leak. */
export const replaceReliefValve: Option = {
  id: 'replace-relief-valve',
  plan({ ledger, machine, duty, model }, given = {}) {
    const findings = reliefFit(ledger, { perLoggedJ: 0 })?.findings ?? []
    const leak = findings.find(({ code }) => code === 'leaks-below-cracking')
    const early = findings.find(({ code }) => code === 'cracks-early')
    if (!leak && !early) return refused([note('relief-healthy')], {})
    const wrong = refusedSetting(given, {})
    if (wrong) return refused([wrong], {})
    const leakLpm = Number(leak?.values.leakLpm ?? 0)
    const change = replaced(
      early ? HEALTHY_CRACK_RATIO[machine.relief.kind] : 0,
      (leakLpm * M3S_PER_LPM) / model.relief.crackingPa,
    )
    return {
      judged: true,
      reasons: [],
      settings: {},
      change,
      replaySd: REPLAY_SD,
      cycleTimeChangeShare: cycleTimeChange(duty, duty.with(change)),
      cautions: CAUTIONS,
    }
  },
}
