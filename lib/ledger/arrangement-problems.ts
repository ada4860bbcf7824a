import { hasFurtherSets, motorsOf, ratedPowerKW, unloadsAboveBar } from '@/lib/contract/arrangement'
import type { Problem } from '@/lib/contract/result'
import { pumpShaftW } from '@/lib/machine/machine-model'
import { W_PER_KW } from '@/lib/units'
import type { Ledger } from './ledger'
import { at } from './parameters'

/** Less time than this is a transition. */
const LEAST_STEP_S = 1
const NOTICEABLE_SHARE = 0.05
/** A reading at rest beyond this many times its limit is no offset (as in the reconciliation). */
const BEYOND_LIMITS = 1.5
/** A pump that turns unloaded keeps more than this share of its unloading pressure. */
const NO_PRESSURE_SHARE = 0.1
/** Missing this much of the smallest set, the meter contradicts that all run. */
const MISSING_SHARE = 0.6
/** Below this share of its no-load current the smallest motor stands. */
const STANDING_SHARE = 0.4

type Said = Pick<Problem, 'code' | 'column' | 'count' | 'values'>

/** The meter at rest against what the auxiliaries that always run should take. */
function auxiliaries({ auxiliaryLoad, sensors, segmentation, model, values }: Ledger): Said[] {
  if (!auxiliaryLoad) return []
  const sensor = sensors.power ?? sensors.current
  if (!sensor) return []
  const byPower = sensors.power !== null
  let seconds = 0
  let sum = 0
  let count = 0
  for (const { kind, means, durationS, from, to } of segmentation.steps) {
    const reading = byPower ? means.powerW : means.currentA
    // A load nobody declared may pass for a turning motor: a pump that turns has some pressure.
    const noPressure =
      means.pumpPressurePa - values[at('pumpPressureOffset')] < NO_PRESSURE_SHARE * model.unloadingPa
    if ((kind !== 'stopped' && !noPressure) || kind === 'starting' || Number.isNaN(reading)) continue
    seconds += durationS
    sum += durationS * reading
    count += to - from
  }
  const beyond = seconds >= LEAST_STEP_S ? sum / seconds : 0
  if (Math.abs(beyond) <= BEYOND_LIMITS * sensor.limit) return []
  const { powerW, reactiveVar } = auxiliaryLoad.always
  const declaredA = Math.hypot(powerW, reactiveVar) / Math.sqrt(3) / model.motor.ratedVoltageV
  const said: Problem['values'] = byPower
    ? { declaredKW: powerW / W_PER_KW, foundKW: (powerW + beyond) / W_PER_KW }
    : { declaredA, foundA: declaredA + beyond }
  return [{ code: 'auxiliaries-contradicted', column: sensor.column, count, values: said }]
}

/** Too little on the meter for all sets at the pressure of the line. */
function standingSets({ machine, model, sensors, segmentation, values }: Ledger): Said[] {
  if (!hasFurtherSets(machine)) return []
  const { motor } = model
  const sensor = sensors.power ?? sensors.current
  if (!sensor) return []
  const smallest =
    Math.min(...motorsOf(machine).map(({ plate }) => plate.ratedPowerKW)) / ratedPowerKW(machine)
  let seconds = 0
  let turningS = 0
  let count = 0
  for (const { means, durationS, from, to } of segmentation.steps) {
    if (durationS < LEAST_STEP_S || !(means.pumpPressurePa > 0)) continue
    const shaftW = model.isFixed
      ? pumpShaftW(model, means.pumpPressurePa)
      : pumpShaftW(model, means.pumpPressurePa, 0)
    const [reading, least, expected] = sensors.power
      ? [means.powerW - values[at('powerOffset')], motor.noLoadInputW, shaftW + motor.lossW(shaftW)]
      : [means.currentA - values[at('currentOffset')], motor.noLoadCurrentA, motor.currentA(shaftW)]
    if (!(reading > STANDING_SHARE * smallest * least)) continue
    turningS += durationS
    if (reading >= expected * (1 - MISSING_SHARE * smallest)) continue
    seconds += durationS
    count += to - from
  }
  if (seconds <= NOTICEABLE_SHARE * turningS) return []
  return [{ code: 'sets-not-all-running', column: sensor.column, count, values: { seconds } }]
}

/** Time of which nothing that was read tells whether a pump of the line is unloaded. */
function unsurePairs({ machine, segmentation, doubtedPumps }: Ledger): Said[] {
  const seconds = doubtedPumps.reduce((sum, { step }) => sum + step.durationS, 0)
  const runningS = segmentation.steps.reduce(
    (sum, { kind, durationS }) => sum + (kind === 'stopped' || kind === 'starting' ? 0 : durationS),
    0,
  )
  if (seconds <= NOTICEABLE_SHARE * runningS) return []
  const count = doubtedPumps.reduce((sum, { step }) => sum + step.to - step.from, 0)
  const values = { seconds, share: seconds / runningS, unloadsAboveBar: unloadsAboveBar(machine) }
  return [{ code: 'pair-state-unsure', column: null, count, values }]
}

/** What the log says against the machine's declared auxiliaries, sets and pumps. */
export function arrangementProblems(ledger: Ledger): Problem[] {
  return [...auxiliaries(ledger), ...standingSets(ledger), ...unsurePairs(ledger)].map((said) => ({
    ...said,
    line: null,
  }))
}
