import type { Estimate } from '@/lib/contract/estimate'
import type { Analysis, Finding } from '@/lib/contract/result'
import { PHASE_KINDS } from '@/lib/contract/result'
import { HEALTHY_CRACK_RATIO, reliefFlowM3S } from '@/lib/machine/relief'
import { weightedQuantile } from '@/lib/numeric/weighted-quantile'
import type { Step } from '@/lib/phases/stretch'
import type { Sensor } from '@/lib/samples/sensors'
import { M3S_PER_LPM, PA_PER_BAR } from '@/lib/units'
import { basisOf, estimate } from './estimates'
import type { Ledger } from './ledger'
import { nodeFlows } from './operating-point'
import { at, type Parameter } from './parameters'
import { COVERAGE } from './propagate'
import { corrected } from './readings'
import type { ReliefLine } from './relief-fit'
import { kindIndex } from './totals'

/** What a year of running costs, from a log's energy. */
export interface YearCost {
  /** Cost per year of one J in the log. */
  readonly perLoggedJ: number
}

/** Flow below cracking that counts as a leak, as a share of rated flow (contract rule). */
const LEAK_SHARE = 0.02
/** Only steps well below cracking tell a leak from opening. */
const BELOW_CRACKING_SHARE = 0.85
/** A setting this far from the nameplate has drifted (common practice, no source). */
const DRIFT_SHARE = 0.05
const LEAST_LEAK_S = 2
/** Valves and meters settle within this time at either end of a step (common practice, no source). */
const SWITCHING_S = 0.3

type ReliefFit = NonNullable<Analysis['reliefFit']>

interface Leak {
  readonly flowM3S: number
  readonly sdM3S: number
  readonly energyJ: number
}

/** Mean of a channel inside a step, away from the switching at its ends. */
function insideOf(sensor: Sensor | null, step: Step, marginSamples: number): number {
  if (!sensor) return Number.NaN
  let sum = 0
  for (let i = step.from + marginSamples; i < step.to - marginSamples; i++) sum += sensor.values[i]
  return sum / (step.to - step.from - 2 * marginSamples)
}

/** Flow in proportion to pressure through a relief that should be closed, as it would be at cracking. */
function leakBelowCracking(ledger: Ledger, line: ReliefLine): Leak | null {
  const { sensors, covariance, values, segmentation, trace } = ledger
  const { pumpFlow, systemFlow, returnFlow, pumpPressure } = sensors
  if (!returnFlow && !(pumpFlow && systemFlow)) return null
  const sdOf = (name: Parameter) => Math.sqrt(covariance.get(at(name), at(name)))
  const margin = Math.max(1, Math.ceil(SWITCHING_S / trace.sampleIntervalS))
  const coefficients: number[] = []
  const durations: number[] = []
  let seconds = 0
  let pressureSeconds = 0
  let energyJ = 0
  for (const step of segmentation.steps) {
    if (step.kind !== 'work-moving' || step.to - step.from <= 2 * margin) continue
    const pressurePa = insideOf(pumpPressure, step, margin) - values[at('pumpPressureOffset')]
    if (!(pressurePa > 0 && pressurePa < BELOW_CRACKING_SHARE * line.curve.crackingPa)) continue
    const flow = returnFlow
      ? insideOf(returnFlow, step, margin) - values[at('returnFlowOffset')]
      : insideOf(pumpFlow, step, margin) -
        values[at('pumpFlowOffset')] -
        (insideOf(systemFlow, step, margin) - values[at('systemFlowOffset')])
    if (Number.isNaN(flow)) continue
    coefficients.push(flow / pressurePa)
    durations.push(step.durationS)
    seconds += step.durationS
    pressureSeconds += step.durationS * pressurePa
    energyJ += step.durationS * flow * pressurePa
  }
  if (seconds < LEAST_LEAK_S) return null
  const offsetSd = returnFlow
    ? sdOf('returnFlowOffset')
    : Math.hypot(sdOf('pumpFlowOffset'), sdOf('systemFlowOffset'))
  return {
    flowM3S: weightedQuantile(coefficients, durations, 0.5) * line.curve.crackingPa,
    sdM3S: (offsetSd * line.curve.crackingPa * seconds) / pressureSeconds,
    energyJ,
  }
}

/** Energy over a relief that opened below where a healthy valve of its kind would, J of hydraulic work. */
function energyOfEarlyCracking(ledger: Ledger, line: ReliefLine): number {
  const healthyPa = HEALTHY_CRACK_RATIO[ledger.machine.relief.kind] * line.curve.settingPa
  const energyOf = (step: Step) => {
    const read = corrected(step.means, ledger.values)
    if (read.pumpPressurePa >= healthyPa) return 0
    if (step.kind !== 'work-metering' && step.kind !== 'work-moving') return 0
    const flows = nodeFlows(read, step.kind, ledger.model, line.curve, read.pumpPressurePa)
    const passed = Math.min(flows.relief || 0, reliefFlowM3S(line.curve, read.pumpPressurePa))
    return Math.max(0, passed) * read.pumpPressurePa * step.durationS
  }
  return ledger.segmentation.steps.reduce((sum, step) => sum + energyOf(step), 0)
}

function sumKinds(ledger: Ledger, key: Parameters<typeof kindIndex>[1]): number {
  return PHASE_KINDS.reduce((sum, kind) => sum + ledger.totals[kindIndex(kind, key)], 0)
}

/** The relief's fitted line with its interval, and what it says about the valve. Null where it was not seen open. */
export function reliefFit(ledger: Ledger, year: YearCost): ReliefFit | null {
  const line = ledger.reliefLine
  if (!line) return null
  const { kind, settingBar: plateBar } = ledger.machine.relief
  const { curve, wholeCovariance } = line
  const [settingVariance, cross, , spanVariance] = wholeCovariance
  const crackingVariance = settingVariance + spanVariance - 2 * cross
  const slopeBasis = line.slopeSeen ? basisOf(ledger, 'overRelief') : 'default'
  const spanPa = curve.settingPa - curve.crackingPa
  const perLpm = M3S_PER_LPM / curve.ratedFlowM3S / PA_PER_BAR

  const setting = estimate(curve.settingPa / PA_PER_BAR, Math.sqrt(settingVariance) / PA_PER_BAR, 'measured')
  const ratio = curve.crackingPa / curve.settingPa
  const ratioSd =
    Math.sqrt(spanVariance + (1 - ratio) ** 2 * settingVariance - 2 * (1 - ratio) * cross) / curve.settingPa
  const hydraulicJ =
    sumKinds(ledger, 'overRelief') + sumKinds(ledger, 'intoSystem') + sumKinds(ledger, 'unloading')
  const atMeter = hydraulicJ > 0 ? sumKinds(ledger, 'electricIn') / hydraulicJ : 0
  const costOf = (energyJ: number, sdShare: number): Estimate => {
    const cost = Math.max(0, energyJ) * atMeter * year.perLoggedJ
    return estimate(cost, sdShare * cost, 'estimated')
  }
  const findings: Finding[] = []
  const healthy = HEALTHY_CRACK_RATIO[kind]
  if (line.slopeSeen && ratio + COVERAGE * ratioSd < healthy) {
    findings.push({
      code: 'cracks-early',
      values: { ratio, healthyRatio: healthy, crackingBar: curve.crackingPa / PA_PER_BAR },
      costPerYear: costOf(energyOfEarlyCracking(ledger, line), 0.25),
    })
  }
  const leak = leakBelowCracking(ledger, line)
  if (leak && leak.flowM3S - COVERAGE * leak.sdM3S > LEAK_SHARE * curve.ratedFlowM3S) {
    findings.push({
      code: 'leaks-below-cracking',
      values: {
        leakLpm: leak.flowM3S / M3S_PER_LPM,
        ratedFlowLpm: curve.ratedFlowM3S / M3S_PER_LPM,
        leakShare: leak.flowM3S / curve.ratedFlowM3S,
      },
      costPerYear: costOf(leak.energyJ, leak.sdM3S / leak.flowM3S),
    })
  }
  const low = (1 - DRIFT_SHARE) * plateBar
  const high = (1 + DRIFT_SHARE) * plateBar
  if (setting.low > high || setting.high < low) {
    const share = setting.value / plateBar - 1
    findings.push({
      code: 'setting-drifted',
      values: { settingBar: setting.value, nameplateBar: plateBar, driftShare: share },
      costPerYear: costOf((sumKinds(ledger, 'overRelief') * Math.max(0, share)) / (1 + share), 0.25),
    })
  }
  return {
    crackingBar: estimate(
      curve.crackingPa / PA_PER_BAR,
      Math.sqrt(Math.max(0, crackingVariance)) / PA_PER_BAR,
      slopeBasis,
    ),
    settingBar: setting,
    overrideBarPerLpm: estimate(spanPa * perLpm, Math.sqrt(spanVariance) * perLpm, slopeBasis),
    findings,
  }
}
