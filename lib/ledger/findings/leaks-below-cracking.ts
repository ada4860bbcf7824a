import type { Finding } from '@/lib/contract/result'
import { weightedQuantile } from '@/lib/numeric/weighted-quantile'
import type { Step } from '@/lib/phases/stretch'
import { readerOf } from '@/lib/samples/samples'
import type { Sensor } from '@/lib/samples/sensors'
import { M3S_PER_LPM, PA_PER_BAR } from '@/lib/units'
import type { Ledger } from '../ledger'
import { at, type Parameter } from '../parameters'
import { COVERAGE } from '../propagate'
import type { ReliefLine } from '../relief-fit'
import { evidenceIn, meterPerHydraulic, priced, type YearCost } from './finding'

/** Flow below cracking that counts as a leak, as a share of rated flow (contract rule). */
const LEAK_SHARE = 0.02
/** Only steps well below cracking tell a leak from opening. */
const BELOW_CRACKING_SHARE = 0.85
const LEAST_LEAK_S = 2
/** Valves and meters settle within this time at either end of a step (common practice, no source). */
const SWITCHING_S = 0.3

/** Mean of a channel inside a step, away from the switching at its ends. */
function insideOf(sensor: Sensor | null, step: Step, marginSamples: number): number {
  if (!sensor) return Number.NaN
  const values = readerOf(sensor.values)
  let sum = 0
  for (let i = step.from + marginSamples; i < step.to - marginSamples; i++) sum += values.at(i)
  return sum / (step.to - step.from - 2 * marginSamples)
}

interface LeakingStep {
  readonly step: Step
  readonly flowM3S: number
  readonly pressurePa: number
}

/** Steps well below cracking with the flow that the meters find between pump and system, offsets taken out. */
function stepsBelowCracking(ledger: Ledger, line: ReliefLine): LeakingStep[] {
  const { sensors, values, segmentation, trace } = ledger
  const { pumpFlow, systemFlow, returnFlow, pumpPressure } = sensors
  const margin = Math.max(1, Math.ceil(SWITCHING_S / trace.sampleIntervalS))
  return segmentation.steps.flatMap((step) => {
    if (step.kind !== 'work-moving' || step.to - step.from <= 2 * margin) return []
    const pressurePa = insideOf(pumpPressure, step, margin) - values[at('pumpPressureOffset')]
    if (!(pressurePa > 0 && pressurePa < BELOW_CRACKING_SHARE * line.curve.crackingPa)) return []
    const flowM3S = returnFlow
      ? insideOf(returnFlow, step, margin) - values[at('returnFlowOffset')]
      : insideOf(pumpFlow, step, margin) -
        values[at('pumpFlowOffset')] -
        (insideOf(systemFlow, step, margin) - values[at('systemFlowOffset')])
    return Number.isNaN(flowM3S) ? [] : [{ step, flowM3S, pressurePa }]
  })
}

/**
 * Flow in proportion to pressure through a relief that should be closed, stated as it would be at cracking: only
 * where it exceeds both what counts and what the meters may differ by (contract rule).
 */
export function leaksBelowCracking(ledger: Ledger, line: ReliefLine, year: YearCost): Finding | null {
  const { sensors, covariance } = ledger
  if (!sensors.returnFlow && !(sensors.pumpFlow && sensors.systemFlow)) return null
  const below = stepsBelowCracking(ledger, line)
  const seconds = below.reduce((sum, { step }) => sum + step.durationS, 0)
  if (seconds < LEAST_LEAK_S) return null
  const meanPa = below.reduce((sum, { step, pressurePa }) => sum + step.durationS * pressurePa, 0) / seconds
  const perPa = weightedQuantile(
    below.map(({ flowM3S, pressurePa }) => flowM3S / pressurePa),
    below.map(({ step }) => step.durationS),
    0.5,
  )
  const sdOf = (name: Parameter) => Math.sqrt(covariance.get(at(name), at(name)))
  const offsetSd = sensors.returnFlow
    ? sdOf('returnFlowOffset')
    : Math.hypot(sdOf('pumpFlowOffset'), sdOf('systemFlowOffset'))
  const { crackingPa, ratedFlowM3S } = line.curve
  const leak = perPa * crackingPa
  const sd = (offsetSd * crackingPa) / meanPa
  if (!(leak - COVERAGE * sd > LEAK_SHARE * ratedFlowM3S)) return null
  const energyJ = ({ step, flowM3S, pressurePa }: LeakingStep) => step.durationS * flowM3S * pressurePa
  const hydraulicJ = below.reduce((sum, one) => sum + energyJ(one), 0)
  const sizes = new Map(below.map((one) => [one.step, energyJ(one)]))
  return {
    code: 'leaks-below-cracking',
    values: {
      leakLpm: leak / M3S_PER_LPM,
      leakLowLpm: (leak - COVERAGE * sd) / M3S_PER_LPM,
      leakHighLpm: (leak + COVERAGE * sd) / M3S_PER_LPM,
      ratedFlowLpm: ratedFlowM3S / M3S_PER_LPM,
      leakShare: leak / ratedFlowM3S,
      meanBar: meanPa / PA_PER_BAR,
    },
    evidence: evidenceIn(
      ledger,
      below.map(({ step }) => step),
      (step) => sizes.get(step) ?? 0,
    ),
    checks: ['pilot-seat', 'dirt', 'other-valves-to-tank'].map((code) => ({ code, values: {} })),
    ...priced(hydraulicJ * meterPerHydraulic(ledger), sd / leak, year),
  }
}
