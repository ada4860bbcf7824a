import type { PhaseKind } from '@/lib/contract/result'
import { meanSpectrum } from '@/lib/numeric/mean-spectrum'
import type { Step } from '@/lib/phases/stretch'
import { readerOf } from '@/lib/samples/samples'
import type { Ledger } from './ledger'

/** A regular swing of the pump pressure. */
export interface PressureSwing {
  /** Half the way from lowest to highest, Pa. */
  readonly amplitudePa: number
  readonly frequencyHz: number
  /** Share of the pressure's whole variance that swings at this frequency. */
  readonly share: number
}

export interface SwingWindow {
  readonly from: number
  readonly to: number
}

/** Samples a window: long enough to show a swing apart from noise, short enough for a hold of a few seconds. */
const WINDOW_SAMPLES = 64
/** Fewer periods a window are drift; fewer samples a period than two and a half show no swing. */
const LEAST_PERIODS = 3
const LEAST_SAMPLES_A_PERIOD = 2.5
/** Pressure settles within this time after a valve switches (common practice, no source). */
const SETTLING_S = 0.5
/** More windows than this tell no more. */
const MOST_WINDOWS = 300

/** Unbroken runs of steps whose kinds are wanted, cut into windows away from the switching at either end. */
export function windowsOf(
  { segmentation, trace }: Pick<Ledger, 'segmentation' | 'trace'>,
  kinds: ReadonlySet<PhaseKind>,
): SwingWindow[] {
  const margin = Math.ceil(SETTLING_S / trace.sampleIntervalS)
  const windows: SwingWindow[] = []
  const cut = (from: number, to: number) => {
    for (let at = from + margin; at + WINDOW_SAMPLES <= to - margin; at += WINDOW_SAMPLES) {
      windows.push({ from: at, to: at + WINDOW_SAMPLES })
    }
  }
  let run: Step[] = []
  const close = () => {
    if (run.length > 0) cut(run[0].from, run[run.length - 1].to)
    run = []
  }
  for (const step of segmentation.steps) {
    if (step.afterGap || !kinds.has(step.kind)) close()
    if (kinds.has(step.kind)) run.push(step)
  }
  close()
  return windows
}

/** The strongest regular swing in windows of the pump pressure; null where there is no window. */
export function strongestSwing(
  { sensors, trace }: Pick<Ledger, 'sensors' | 'trace'>,
  windows: readonly SwingWindow[],
): PressureSwing | null {
  const every = Math.max(1, Math.ceil(windows.length / MOST_WINDOWS))
  const starts = windows.filter((_, k) => k % every === 0).map(({ from }) => from)
  const { variance, windows: used } = meanSpectrum(
    readerOf(sensors.pumpPressure.values),
    starts,
    WINDOW_SAMPLES,
  )
  if (used === 0) return null
  const last = Math.floor(WINDOW_SAMPLES / LEAST_SAMPLES_A_PERIOD)
  // A swing between two whole numbers of periods shows in both and in their neighbours.
  const around = (k: number) => variance[k - 1] + variance[k] + variance[k + 1]
  let best = LEAST_PERIODS
  for (let k = LEAST_PERIODS; k <= last; k++) if (around(k) > around(best)) best = k
  const all = variance.reduce((sum, one) => sum + one, 0)
  const periods =
    ((best - 1) * variance[best - 1] + best * variance[best] + (best + 1) * variance[best + 1]) / around(best)
  return {
    amplitudePa: Math.sqrt(2 * around(best)),
    frequencyHz: periods / (WINDOW_SAMPLES * trace.sampleIntervalS),
    share: all > 0 ? around(best) / all : 0,
  }
}
