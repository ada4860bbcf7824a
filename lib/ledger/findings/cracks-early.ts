import type { Finding } from '@/lib/contract/result'
import { HEALTHY_CRACK_RATIO, reliefFlowM3S } from '@/lib/machine/relief'
import type { Step } from '@/lib/phases/stretch'
import { PA_PER_BAR } from '@/lib/units'
import type { Ledger } from '../ledger'
import { nodeFlows } from '../operating-point'
import { COVERAGE } from '../propagate'
import { corrected } from '../readings'
import type { ReliefLine } from '../relief-fit'
import { evidenceIn, meterPerHydraulic, priced, type YearCost } from './finding'

/** Where a sound valve in its place would crack moves what it would have held back by about this share (common practice, no source). */
const HELD_BACK_SD = 0.25

/** Cracking over setting, and its standard deviation. */
export function crackRatio({ curve, wholeCovariance }: ReliefLine): { ratio: number; sd: number } {
  const [setting, cross, , span] = wholeCovariance
  const ratio = curve.crackingPa / curve.settingPa
  const variance = span + (1 - ratio) ** 2 * setting - 2 * (1 - ratio) * cross
  return { ratio, sd: Math.sqrt(Math.max(0, variance)) / curve.settingPa }
}

/**
 * A relief that opens below where a sound one of its kind would: only where the whole interval says so (contract rule).
 * The valve's own line is judged; what it passes follows from `line`, which the pump meets.
 */
export function cracksEarly(ledger: Ledger, line: ReliefLine, year: YearCost): Finding | null {
  const healthyRatio = HEALTHY_CRACK_RATIO[ledger.machine.relief.kind]
  const own = ledger.ownReliefLine ?? line
  const { ratio, sd } = crackRatio(own)
  if (!line.slopeSeen || ratio + COVERAGE * sd >= healthyRatio) return null
  const healthyPa = healthyRatio * line.curve.settingPa
  const passedJ = (step: Step) => {
    const read = corrected(step.means, ledger.values)
    if (!(read.pumpPressurePa < healthyPa)) return 0
    if (step.kind !== 'work-metering' && step.kind !== 'work-moving') return 0
    const flows = nodeFlows(read, step.kind, ledger.model, line.curve, read.pumpPressurePa)
    const passed = Math.min(flows.relief || 0, reliefFlowM3S(line.curve, read.pumpPressurePa))
    return Math.max(0, passed) * read.pumpPressurePa * step.durationS
  }
  const early = ledger.segmentation.steps.filter((step) => passedJ(step) > 0)
  const hydraulicJ = early.reduce((sum, step) => sum + passedJ(step), 0)
  return {
    code: 'cracks-early',
    values: {
      ratio,
      ratioLow: ratio - COVERAGE * sd,
      ratioHigh: ratio + COVERAGE * sd,
      healthyRatio,
      crackingBar: own.curve.crackingPa / PA_PER_BAR,
      settingBar: own.curve.settingPa / PA_PER_BAR,
    },
    evidence: evidenceIn(ledger, early, passedJ),
    checks: ['dirt', 'pilot-seat', 'spring', 'remote-pilot-line'].map((code) => ({ code, values: {} })),
    ...priced(hydraulicJ * meterPerHydraulic(ledger), HELD_BACK_SD, year),
  }
}
