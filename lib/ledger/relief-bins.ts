import type { MachineModel } from '@/lib/machine/machine-model'
import { weightedQuantile } from '@/lib/numeric/weighted-quantile'
import { meansBy, type Step, type StretchMeans } from '@/lib/phases/stretch'
import { nodeFlows } from './operating-point'
import type { ParameterValues } from './parameters'
import { corrected } from './readings'
import { steadySteps } from './steady-steps'
import { backPressurePa, type TankLine } from './tank-line'

/** Steps in which the relief passes about the same flow, as one point of its line. */
export interface ReliefBin {
  readonly kind: Step['kind']
  /** Weighted medians of the steps' readings, which a few transitions do not move. */
  readonly means: StretchMeans
  readonly durationS: number
  readonly steps: number
  /** What stands behind the relief, Pa; nil where it is not asked for. */
  readonly backPa: number
  /** Spread of the steps' pressures over it about their median, 1 sd, Pa. */
  readonly spreadPa: number
}

/** Width of a bin as a share of rated flow. */
const BIN_SHARE = 0.05
/** More bins than flows over a relief fill. */
const MOST_BINS = 1024
/** A metering step that passes less than this share of rated flow may show a leak and not the line. */
const BEYOND_LEAK_SHARE = 0.15
/** Median absolute deviation of a normal distribution to its standard deviation. */
const MAD_TO_SD = 1.4826

/** Flow over the relief at a bin's readings, m³/s, and the pressure it passes at, Pa. */
export function reliefPoint(
  of: Pick<ReliefBin, 'kind' | 'means'>,
  model: MachineModel,
  values: ParameterValues,
): { flowM3S: number; pressurePa: number } {
  const read = corrected(of.means, values)
  const { relief } = nodeFlows(read, of.kind, model, model.relief, read.pumpPressurePa)
  return { flowM3S: relief, pressurePa: read.pumpPressurePa }
}

function binOf(
  steps: readonly Step[],
  names: readonly (keyof StretchMeans)[],
  tank: TankLine | null,
): ReliefBin {
  const weights = steps.map(({ durationS }) => durationS)
  const median = (of: (step: Step) => number) => weightedQuantile(steps.map(of), weights, 0.5)
  const means = meansBy((name) => (names.includes(name) ? median((step) => step.means[name]) : Number.NaN))
  const acrossPa = (step: Step) => step.means.pumpPressurePa - backPressurePa(tank, step)
  const middlePa = median(acrossPa)
  return {
    kind: steps[0].kind,
    means,
    durationS: weights.reduce((sum, weight) => sum + weight, 0),
    steps: steps.length,
    backPa: means.pumpPressurePa - middlePa,
    spreadPa: MAD_TO_SD * median((step) => Math.abs(acrossPa(step) - middlePa)),
  }
}

/**
 * The points at which the relief was seen open: steps with the whole flow over it, and metering steps where
 * meters say how much. What is systematic counts once and not once a cycle. With a tank line the points are
 * those of the valve alone.
 */
export function reliefBins(
  steps: readonly Step[],
  names: readonly (keyof StretchMeans)[],
  model: MachineModel,
  values: ParameterValues,
  tank: TankLine | null,
): ReliefBin[] {
  const rated = model.relief.ratedFlowM3S
  // By number: metering apart from the whole flow, which may come to the same, and so are states of the pumps.
  const bins = new Map<number, Step[]>()
  for (const step of steadySteps(steps)) {
    const meters = step.kind === 'work-metering'
    if (!meters && step.kind !== 'work-holding' && step.kind !== 'idle-loaded') continue
    const { systemFlowM3S, returnFlowM3S, pumpPressurePa } = step.means
    if (Number.isNaN(pumpPressurePa)) continue
    if (meters && Number.isNaN(systemFlowM3S) && Number.isNaN(returnFlowM3S)) continue
    const { flowM3S } = reliefPoint(step, model, values)
    if (!(flowM3S > (meters ? BEYOND_LEAK_SHARE : BIN_SHARE) * rated)) continue
    const apart = Number.isNaN(step.means.pumpState) ? 0 : step.means.pumpState
    const key = 2 * (MOST_BINS * apart + Math.round(flowM3S / (BIN_SHARE * rated))) + (meters ? 1 : 0)
    const bin = bins.get(key)
    if (bin) bin.push(step)
    else bins.set(key, [step])
  }
  return [...bins.values()].map((members) => binOf(members, names, tank))
}
