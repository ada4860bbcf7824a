import { reliefFit } from '@/lib/ledger/relief-findings'
import { HEALTHY_CRACK_RATIO, type ReliefCurve, reliefFlowM3S, reliefSlope } from '@/lib/machine/relief'
import { M3S_PER_LPM } from '@/lib/units'
import { note, type Option, refused } from '../option'
import { atFlow, cycleTimeChange } from '../serve'
import type { SupplyChange, SupplyStep } from '../supply'

/** A load this far below the pump is held back by a flow control, which then sets the flow. */
const THROTTLED_SHARE = 0.2
/** What a leaking valve passes may be this share of a stroke's flow at most, else it is no leak. */
const MOST_LOST_SHARE = 0.5

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

function mended(step: SupplyStep, fitted: ReliefCurve, healthy: ReliefCurve, leakPerPa: number): SupplyStep {
  const opens = fitted.crackingPa < healthy.crackingPa
  const moves = (step.kind === 'work-moving' || step.kind === 'work-metering') && !isThrottled(step)
  if (moves && step.pressurePa < healthy.crackingPa) {
    const early = opens ? reliefFlowM3S(fitted, step.pressurePa) : 0
    const passed =
      step.kind === 'work-metering' ? Math.max(0, step.reliefM3S) : early + leakPerPa * step.pressurePa
    const lost = Math.min(passed, MOST_LOST_SHARE * step.systemM3S)
    return atFlow({ ...step, reliefM3S: Math.max(0, step.reliefM3S - lost) }, step.systemM3S + lost)
  }
  if (!opens || !(step.reliefM3S > 0) || step.kind === 'idle-unloaded' || step.kind === 'work-moving') {
    return step
  }
  // The same flow over a valve with a shorter span: a higher pressure, up to where both lines meet.
  const shortM3S = Math.max(0, fitted.ratedFlowM3S - step.reliefM3S)
  return { ...step, pressurePa: step.pressurePa + shortM3S * (reliefSlope(fitted) - reliefSlope(healthy)) }
}

/** A relief that opens no earlier than its kind should and does not leak; strokes get the oil it lost. */
function replaced(healthyRatio: number, leakPerPa: number): SupplyChange {
  return (supply, { relief }) => {
    const healthy = { ...relief, crackingPa: Math.max(relief.crackingPa, healthyRatio * relief.settingPa) }
    return supply.map((step) =>
      step.motorOn && !Number.isNaN(step.pressurePa) ? mended(step, relief, healthy, leakPerPa) : step,
    )
  }
}

/** A sound valve in the place of one that the log shows to crack early or to leak. */
export const replaceReliefValve: Option = {
  id: 'replace-relief-valve',
  plan({ ledger, machine, supply, model }) {
    const findings = reliefFit(ledger, { perLoggedJ: 0 })?.findings ?? []
    const leak = findings.find(({ code }) => code === 'leaks-below-cracking')
    const early = findings.find(({ code }) => code === 'cracks-early')
    if (!leak && !early) return refused([note('relief-healthy')], {})
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
      cycleTimeChangeShare: cycleTimeChange(supply, change(supply, model)),
      cautions: CAUTIONS,
    }
  },
}
