import type { Correction } from '@/lib/contract/corrections'
import type { ReportedLevels } from '@/lib/contract/levels'
import type { AppliedCorrection, Phase, PhaseKind } from '@/lib/contract/result'
import type { MachineModel } from '@/lib/machine/machine-model'
import { readerOf } from '@/lib/samples/samples'
import type { Sensors } from '@/lib/samples/sensors'
import type { Trace } from '@/lib/samples/trace'
import { classify, type FirstKind } from './classify'
import { correctSteps } from './corrections'
import { applyDwell, closeSpecks } from './dwell'
import { otherReturnReading, type SystemShare, systemShareOf } from './flow-share'
import { givenInSi } from './given-levels'
import { longestHoldOf, otherwiseTold, tellHolds, waitsAreTimed } from './holds'
import { findLevels, isBelow, type Levels } from './levels'
import { loadIsBehindRestriction } from './load-tells'
import { tellPumpStates, withPumpStates } from './pump-states'
import { asLoads } from './recurring'
import { reportLevels } from './reported-levels'
import type { SlowSensor } from './slow-sensors'
import { steadyStretches } from './steady-stretches'
import { type Step, type Stretch, stretchOf } from './stretch'
import { stepOf } from './stretch-columns'

export interface Segmentation {
  readonly phases: readonly Phase[]
  /** The sensors, and the state of unloading pumps as if one had read it. */
  readonly sensors: Sensors
  /** Steady stretches with their kinds: the steps of the phases, in time. */
  readonly steps: readonly Step[]
  /** In force: those given in the machine file, else those found. */
  readonly levels: Levels
  /** Each level as found and as given, in the units people read. */
  readonly reportedLevels: ReportedLevels
  /** Meters that lag behind the pressure: phases do not begin by them. */
  readonly slow: readonly SlowSensor[]
  /** A person's corrections, in the order given, as they came to act. */
  readonly corrections: readonly AppliedCorrection[]
  /**
   * The same steps as they would be with another longest hold; signals, load pressure and a person's word
   * still outrank length.
   */
  stepsWithLongestHold(longestHoldS: number): Step[]
  /** A timer is seen to keep the pump at the relief's pressure before it is unloaded. */
  readonly waitsAreTimed: boolean
  /** The same steps as they may as well be where pressure or a return meter alone tells their kinds. */
  otherReadings(): OtherReading[]
}

/** What pressure alone, or a return meter alone, leaves open. */
export const KIND_DOUBTS = ['hold-or-wait', 'load-or-early-relief', 'worn-pump-or-feed'] as const
export type KindDoubt = (typeof KIND_DOUBTS)[number]

export interface OtherReading {
  readonly doubt: KindDoubt
  readonly steps: readonly Step[]
}

/** Joins neighbouring steps of one kind into phases, never across a gap. */
function joinPhases(steps: readonly Step[], trace: Trace): Phase[] {
  const timeS = readerOf(trace.timeS)
  const phases: { kind: PhaseKind; startS: number; endS: number }[] = []
  steps.forEach((step, i) => {
    const endS =
      step.to < timeS.length && !steps[i + 1]?.afterGap
        ? timeS.at(step.to)
        : timeS.at(step.to - 1) + trace.sampleIntervalS
    const last = phases.at(-1)
    if (last && last.kind === step.kind && !step.afterGap) last.endS = endS
    else phases.push({ kind: step.kind, startS: timeS.at(step.from), endS })
  })
  return phases
}

/**
 * Splits a recording into the seven kinds of phases. Linear in the samples; thresholds come from the
 * log; boundaries lie on sample times at the change point; gaps are never bridged. A person's corrections
 * have the last word.
 * @throws TankwardError `correction-outside`, `correction-without-samples`
 */
export function segment(
  read: Sensors,
  trace: Trace,
  model: MachineModel,
  corrections: readonly Correction[] = [],
): Segmentation {
  const { stretches: cut, columns, slow, pressureErrorPa } = steadyStretches(read, trace)
  const pumpStates = tellPumpStates(cut, read, model)
  const { stretches, sensors } = pumpStates
    ? withPumpStates(columns, read, pumpStates)
    : { stretches: cut, sensors: read }
  const share = systemShareOf(model, stretches)
  const foundLevels = findLevels(model, stretches, share, pressureErrorPa)
  const given = model.machine.levels && givenInSi(model.machine.levels)
  const levels = given ? findLevels(model, stretches, share, pressureErrorPa, given) : foundLevels
  const pressureAlone = stretches.every((stretch) => Number.isNaN(share(stretch)))
  const kindsBy = (shareOf: SystemShare, by: Levels) => {
    const isRestricted = (stretch: Stretch) =>
      loadIsBehindRestriction(stretch) &&
      isBelow(stretch.means.pumpPressurePa, by.deadHeadPa, pressureErrorPa(stretch), by.deadHeadPa)
    let before: FirstKind = 'stopped'
    const raw = stretches.map((stretch) => {
      before = classify(stretch, model, by, shareOf, stretch.afterGap ? 'stopped' : before, isRestricted)
      return before
    })
    const specked = pressureAlone ? closeSpecks(stretches, raw) : raw
    return applyDwell(stretches, specked, by, shareOf, trace.sampleIntervalS)
  }
  const kinds = kindsBy(share, levels)
  const withKinds = (of: readonly PhaseKind[]) => stretches.map((stretch, k) => stepOf(stretch, of[k]))
  const { standbyPa, unloads } = levels
  const rulesWith = (longestHoldS: number) => ({
    longestHoldS,
    standbyPa,
    isBlind: pressureAlone && unloads,
  })
  const told = (longestHoldS: number) => tellHolds(stretches, kinds, rulesWith(longestHoldS))
  const rules = rulesWith(longestHoldOf(model.machine))
  const asTold = told(rules.longestHoldS)
  const found = withKinds(asTold)
  const corrected = correctSteps(found, corrections, trace, (from, to, afterGap) =>
    stretchOf(sensors, trace, from, to, afterGap),
  )
  return {
    sensors,
    phases: corrected.marked(joinPhases(corrected.steps, trace)),
    steps: corrected.steps,
    levels,
    reportedLevels: reportLevels(foundLevels, model, stretches, share),
    slow,
    corrections: corrected.applied,
    stepsWithLongestHold: (seconds) => corrected.withFound(told(seconds)),
    waitsAreTimed: waitsAreTimed(stretches, kinds, rules),
    otherReadings: () => {
      const waits = otherwiseTold(stretches, kinds, asTold, rules)
      const loads = pressureAlone ? asLoads(stretches, asTold, levels) : null
      const returnReading = otherReturnReading(model, stretches)
      const otherShare = returnReading && systemShareOf(model, stretches, returnReading)
      const fed = otherShare
        ? tellHolds(
            stretches,
            kindsBy(otherShare, findLevels(model, stretches, otherShare, pressureErrorPa, given)),
            rules,
          )
        : null
      const readings = [
        { doubt: 'hold-or-wait' as const, kinds: waits },
        { doubt: 'load-or-early-relief' as const, kinds: loads },
        { doubt: 'worn-pump-or-feed' as const, kinds: fed },
      ]
      return readings.flatMap(({ doubt, kinds: other }) =>
        other ? [{ doubt, steps: corrected.withFound(other) }] : [],
      )
    },
  }
}
