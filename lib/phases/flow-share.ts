import { fullFlowM3S, inPumpState, type MachineModel, partStrokeFlowM3S } from '@/lib/machine/machine-model'
import { weightedQuantile } from '@/lib/numeric/weighted-quantile'
import type { Stretch, StretchMeans } from './stretch'

/** Share of the pump's full flow that goes into the system; NaN where no flow meter tells. */
export type SystemShare = (stretch: Stretch) => number

/** Below this share of its setting a sound relief is closed. */
export const opensRatioOf = ({ machine }: MachineModel) =>
  machine.relief.kind === 'pilot-operated' ? 0.88 : 0.72

/** What the pumps that feed the line give at full stroke. */
const fullAt = (model: MachineModel, { pumpPressurePa, pumpState }: StretchMeans) =>
  fullFlowM3S(inPumpState(model, pumpState), pumpPressurePa)

/** Stretches shorter than this say little about a level. */
export const LEVEL_STRETCH_S = 1
/** One of fewer samples may be the middle of a change. */
const LEVEL_SAMPLES = 3

/** Long enough, and of enough samples, to show a level. */
export const isLevel = ({ durationS, from, to }: Stretch) =>
  durationS >= LEVEL_STRETCH_S && to - from >= LEVEL_SAMPLES

/**
 * The most that comes back through the return meter at the relief's pressure again and again, as a share of the
 * nameplate's full flow: a worn pump's whole flow, as far as one wears that far. Null where it is none.
 */
function wornReturnShare(model: MachineModel, stretches: readonly Stretch[]): number | null {
  const { settingPa } = model.relief
  const high = stretches.filter(
    (s) => s.means.pumpPressurePa > opensRatioOf(model) * settingPa && s.durationS >= LEVEL_STRETCH_S,
  )
  const whole = weightedQuantile(
    high.map(({ means }) => means.returnFlowM3S / fullAt(model, means)),
    high.map((s) => s.durationS),
    0.9,
  )
  // Less than even a badly worn pump gives is metering.
  return whole > wornShareAt(model, settingPa) && whole < 1 ? whole : null
}

/** How a return meter alone is read that never sees a sound pump's whole flow: the pump is worn, or always feeds something. */
export type ReturnReading = 'worn-pump' | 'sound-pump'

/** Where no more than this comes back at most, a pump so worn is as rare as a machine that never stops all its flow. */
const RARELY_WORN_SHARE = 0.9

/** Whether a return meter is alone and may be read either way. */
function isReturnDoubted(model: MachineModel, stretches: readonly Stretch[]): boolean {
  const isAlone = stretches.every(
    ({ means }) => Number.isNaN(means.systemFlowM3S) && Number.isNaN(means.pumpFlowM3S),
  )
  if (!model.isFixed || !isAlone) return false
  const whole = wornReturnShare(model, stretches)
  return whole !== null && whole <= RARELY_WORN_SHARE
}

/** A machine that idles unloaded need never stop all its flow at the relief's pressure: any other does when it idles. */
function readingTaken(model: MachineModel, stretches: readonly Stretch[]): ReturnReading {
  const idlesUnloaded = model.machine.unloading.kind !== 'none'
  return idlesUnloaded && isReturnDoubted(model, stretches) ? 'sound-pump' : 'worn-pump'
}

/** The reading of a return meter that is as possible as the one taken; null where there is none. */
export function otherReturnReading(model: MachineModel, stretches: readonly Stretch[]): ReturnReading | null {
  if (!isReturnDoubted(model, stretches)) return null
  return readingTaken(model, stretches) === 'worn-pump' ? 'sound-pump' : 'worn-pump'
}

/**
 * The whole flow that comes back through the return meter, over the nameplate's full flow: what recurs at the
 * relief's pressure shows a worn pump's leakage, which grows with pressure.
 */
function wholeReturnShare(
  model: MachineModel,
  stretches: readonly Stretch[],
  reading: ReturnReading,
): SystemShare {
  const whole = reading === 'worn-pump' ? wornReturnShare(model, stretches) : null
  if (whole === null) return () => 1
  return ({ means }) => 1 - (1 - whole) * Math.min(1, means.pumpPressurePa / model.relief.settingPa)
}

/** Leakage of a badly worn pump over the nameplate's (common practice, no source). */
const WORN_LEAKAGE = 3.5
const WORN_ROOM_SHARE = 0.03

/**
 * Share of full flow that even a badly worn pump still gives at a pressure: what is missing beyond it passes
 * a relief that opens too early.
 */
export function wornShareAt(model: MachineModel, pressurePa: number): number {
  const full = fullFlowM3S(model, pressurePa)
  return 1 - ((WORN_LEAKAGE - 1) * model.pump.leakageM3S(pressurePa)) / full - WORN_ROOM_SHARE
}

/** No relief opens below this share of its setting (common practice, no source). */
const EARLIEST_OPEN_SHARE = 0.5
/** No pump that runs gives less than this share of its flow (common practice, no source). */
const LEAST_SHARE = 0.6

/** How the flow meters fitted give the share of flow into the system, calibrated on the log's own full flow. */
export function systemShareOf(
  model: MachineModel,
  stretches: readonly Stretch[],
  reading: ReturnReading = readingTaken(model, stretches),
): SystemShare {
  const full = ({ means }: Stretch) => fullAt(model, means)
  // What not even a badly worn pump loses passes a relief that opens early, as far down as any does.
  const leastShare = ({ means: { pumpPressurePa } }: Stretch) =>
    pumpPressurePa > EARLIEST_OPEN_SHARE * model.relief.settingPa
      ? Math.max(LEAST_SHARE, wornShareAt(model, pumpPressurePa))
      : LEAST_SHARE
  const calibrate = (flow: (stretch: Stretch) => number) => {
    // On a machine that only meters, oil flows below the relief's pressure in transitions alone: they show no full flow.
    const low = stretches.filter(
      (stretch) =>
        isLevel(stretch) &&
        stretch.means.pumpPressurePa < opensRatioOf(model) * model.relief.settingPa &&
        flow(stretch) > leastShare(stretch) * full(stretch) &&
        flow(stretch) < 1.3 * full(stretch),
    )
    const ratio = weightedQuantile(
      low.map((stretch) => flow(stretch) / full(stretch)),
      low.map((stretch) => stretch.durationS),
      0.5,
    )
    return Number.isNaN(ratio) ? 1 : ratio
  }
  const system = calibrate((stretch) => stretch.means.systemFlowM3S)
  const back = wholeReturnShare(model, stretches, reading)
  return (stretch) => {
    const { pumpFlowM3S, systemFlowM3S, returnFlowM3S } = stretch.means
    if (!Number.isNaN(systemFlowM3S)) {
      const whole = model.isFixed && pumpFlowM3S > 0 ? pumpFlowM3S : full(stretch) * system
      return systemFlowM3S / whole
    }
    if (!model.isFixed && !Number.isNaN(pumpFlowM3S)) {
      const backM3S = Number.isNaN(returnFlowM3S) ? 0 : returnFlowM3S
      return (pumpFlowM3S - backM3S) / full(stretch)
    }
    if (!model.isFixed) return partStrokeFlowM3S(model, stretch.means) / full(stretch)
    if (Number.isNaN(returnFlowM3S)) return Number.NaN
    return 1 - returnFlowM3S / (pumpFlowM3S > 0 ? pumpFlowM3S : full(stretch) * back(stretch))
  }
}
