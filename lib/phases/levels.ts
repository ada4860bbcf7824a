import { fullFlowM3S, type MachineModel, partStrokeFlowM3S } from '@/lib/machine/machine-model'
import { reliefPressurePa } from '@/lib/machine/relief'
import { weightedQuantile } from '@/lib/numeric/weighted-quantile'
import { earlyOpeningPa } from './early-opening'
import { longestHoldOf } from './holds'
import type { Stretch } from './stretch'

/** Levels found in the log that tell the phase kinds apart. */
export interface Levels {
  /** Motor current (A) or input (W) above which the motor turns. */
  readonly runningCurrentA: number
  readonly runningPowerW: number
  /** Pressure with the whole flow over the relief, Pa. */
  readonly deadHeadPa: number
  /** Below it the pump is unloaded where the oil has a way to tank at low pressure, Pa. */
  readonly unloadedBelowPa: number
  /** Above it the relief may be open, Pa. */
  readonly reliefOpensPa: number
  /** Above it a relief that opens far too early may be open, Pa. */
  readonly reliefMayOpenPa: number
  /** Above it a healthy relief is open, Pa. */
  readonly reliefOpenPa: number
  /** At and above it, where no flow tells, the whole flow passes the relief, Pa. */
  readonly deadHeadFromPa: number
  /** Below it a load-sensing pump stands by, Pa; nil for other pumps, or where a flow meter tells. */
  readonly standbyPa: number
  /** Shares of full flow into the system: below the first none moves, above the second all. */
  readonly noFlowShare: number
  readonly fullFlowShare: number
}

/** Share of the pump's full flow that goes into the system; NaN where no flow meter tells. */
export type SystemShare = (stretch: Stretch) => number

/** Middle of the widest empty band among values within [low, high], else the `usual` value. */
function widestGap(values: number[], low: number, high: number, usual: number): number {
  const inside = values.filter((value) => value > low && value < high).sort((a, b) => a - b)
  const edges = [low, ...inside, high]
  let best = usual
  let width = 0
  for (let i = 1; i < edges.length; i++) {
    if (edges[i] - edges[i - 1] > width) {
      width = edges[i] - edges[i - 1]
      best = (edges[i] + edges[i - 1]) / 2
    }
  }
  return inside.length === 0 ? usual : best
}

/** Stretches shorter than this say little about a level. */
const LEVEL_STRETCH_S = 1
/** Neighbouring levels nearer than this share of the dead-head pressure are one. */
const SAME_LEVEL_SHARE = 0.002
const LOWEST_DEAD_HEAD_SHARE = 0.98

/** Middle of the first empty band below the dead-head level, Pa: above it all flow passes the relief. */
function belowDeadHead(stretches: readonly Stretch[], deadHeadPa: number): number {
  const levels = stretches
    .filter((s) => s.durationS >= LEVEL_STRETCH_S && s.means.pumpPressurePa <= deadHeadPa)
    .map((s) => s.means.pumpPressurePa)
    .sort((a, b) => b - a)
  let last = deadHeadPa
  for (const level of levels) {
    if (last - level > SAME_LEVEL_SHARE * deadHeadPa) {
      const middle = (last + Math.max(level, LOWEST_DEAD_HEAD_SHARE * deadHeadPa)) / 2
      return Math.max(middle, LOWEST_DEAD_HEAD_SHARE * deadHeadPa)
    }
    last = level
  }
  return LOWEST_DEAD_HEAD_SHARE * deadHeadPa
}

/**
 * Without a flow that tells, the highest level passes as dead-headed when it lies this near to what the
 * nameplate says, or lasts longer than any hold: else all of it may be metering.
 */
const NEAR_NAMEPLATE_SHARE = 0.965

/** Longest time without a break at about a pressure, s. */
function longestAtS(stretches: readonly Stretch[], pressurePa: number): number {
  let longest = 0
  let run = 0
  for (const { afterGap, durationS, means } of stretches) {
    if (afterGap) run = 0
    run = means.pumpPressurePa > LOWEST_DEAD_HEAD_SHARE * pressurePa ? run + durationS : 0
    longest = Math.max(longest, run)
  }
  return longest
}

/** Below this share of its setting a sound relief is closed. */
const opensRatioOf = ({ machine }: MachineModel) => (machine.relief.kind === 'pilot-operated' ? 0.88 : 0.72)

/** Two meters see a valve open that opens far too early; one meter and a pump model would take it for a worn pump. */
const EARLY_OPENS_SHARE = 0.4

function splitIsMeasured(stretches: readonly Stretch[]): boolean {
  return stretches.some(({ means }) => {
    const meters = [means.pumpFlowM3S, means.systemFlowM3S, means.returnFlowM3S]
    return meters.filter((flow) => !Number.isNaN(flow)).length >= 2
  })
}

/**
 * The whole flow that comes back through the return meter, over the nameplate's full flow: what recurs at the
 * relief's pressure shows a worn pump's leakage, which grows with pressure.
 */
function wholeReturnShare(model: MachineModel, stretches: readonly Stretch[]): SystemShare {
  const { settingPa } = model.relief
  const share = ({ means }: Stretch) => means.returnFlowM3S / fullFlowM3S(model, means.pumpPressurePa)
  const high = stretches.filter(
    (s) => s.means.pumpPressurePa > opensRatioOf(model) * settingPa && s.durationS >= LEVEL_STRETCH_S,
  )
  const whole = weightedQuantile(
    high.map(share),
    high.map((s) => s.durationS),
    0.9,
  )
  // Less than even a badly worn pump gives is metering.
  if (!(whole > wornShareAt(model, settingPa) && whole < 1)) return () => 1
  return ({ means }) => 1 - (1 - whole) * Math.min(1, means.pumpPressurePa / settingPa)
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

/** How the flow meters fitted give the share of flow into the system, calibrated on the log's own full flow. */
export function systemShareOf(model: MachineModel, stretches: readonly Stretch[]): SystemShare {
  const full = (stretch: Stretch) => fullFlowM3S(model, stretch.means.pumpPressurePa)
  const calibrate = (flow: (stretch: Stretch) => number) => {
    const low = stretches.filter(
      (stretch) =>
        stretch.means.pumpPressurePa < opensRatioOf(model) * model.relief.settingPa &&
        flow(stretch) > 0.6 * full(stretch) &&
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
  const back = wholeReturnShare(model, stretches)
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

/** A load-sensing pump stands by within this share above the lowest level it runs at, and well below its setting. */
const STANDBY_SPREAD = 1.25
const HIGHEST_STANDBY_SHARE = 0.25

function standbyOf(model: MachineModel, stretches: readonly Stretch[]): number {
  if (model.machine.pump.kind !== 'load-sensing') return 0
  const running = stretches.filter(({ means, durationS }) => {
    const metered = !Number.isNaN(means.pumpFlowM3S) || !Number.isNaN(means.systemFlowM3S)
    const turns = !(
      means.powerW < 0.5 * model.motor.noLoadInputW || means.currentA < 0.5 * model.motor.noLoadCurrentA
    )
    return !metered && turns && durationS >= LEVEL_STRETCH_S
  })
  const lowest = weightedQuantile(
    running.map((s) => s.means.pumpPressurePa),
    running.map((s) => s.durationS),
    0.05,
  )
  return lowest < HIGHEST_STANDBY_SHARE * model.relief.settingPa ? STANDBY_SPREAD * lowest : 0
}

/** Finds the levels from the log's own steady stretches; nobody types a threshold for a first result. */
export function findLevels(model: MachineModel, stretches: readonly Stretch[], share: SystemShare): Levels {
  const { motor, relief, machine } = model
  const setting = relief.settingPa
  const runningCurrentA = 0.5 * motor.noLoadCurrentA
  const runningPowerW = 0.5 * motor.noLoadInputW
  const opensRatio = opensRatioOf(model)
  const openRatio = machine.relief.kind === 'pilot-operated' ? 0.96 : 0.88

  const expectedPa = reliefPressurePa(relief, fullFlowM3S(model, setting))
  const told = stretches.filter(
    (s) => share(s) < 0.1 && s.means.pumpPressurePa > 0.5 * setting && s.durationS >= LEVEL_STRETCH_S,
  )
  const high = stretches.filter((s) => s.means.pumpPressurePa > 0.8 * setting)
  const weigh = (list: Stretch[], part: number) =>
    weightedQuantile(
      list.map((s) => s.means.pumpPressurePa),
      list.map((s) => s.durationS),
      part,
    )
  const flowsTell = stretches.some((s) => !Number.isNaN(share(s)))
  const top = weigh(high, 0.95)
  const believed =
    top >= NEAR_NAMEPLATE_SHARE * expectedPa || longestAtS(stretches, top) > longestHoldOf(machine)
  const found = told.length > 0 ? weigh(told, 0.5) : flowsTell || !believed ? Number.NaN : top
  const deadHeadPa = Number.isNaN(found) ? expectedPa : found

  const pressures = stretches.map((s) => s.means.pumpPressurePa)
  const near = pressures
    .filter((value) => value > 0.6 * model.unloadingPa && value < 0.5 * deadHeadPa)
    .map((value) => Math.log(value))
  const unloadedBelowPa = Math.exp(
    widestGap(
      near,
      Math.log(1.3 * model.unloadingPa),
      Math.log(Math.max(1.5 * model.unloadingPa, Math.min(4 * model.unloadingPa, 0.5 * deadHeadPa))),
      Math.log(2 * model.unloadingPa),
    ),
  )
  const shares = stretches.filter((s) => s.means.pumpPressurePa > 0.5 * deadHeadPa).map(share)
  const topShares = stretches.filter((s) => s.means.pumpPressurePa > opensRatio * deadHeadPa).map(share)
  const split = splitIsMeasured(stretches)
  const soundPa = opensRatio * deadHeadPa
  const earlyPa = split || told.length === 0 ? null : earlyOpeningPa(stretches, model, deadHeadPa, soundPa)
  return {
    runningCurrentA,
    runningPowerW,
    deadHeadPa,
    unloadedBelowPa,
    reliefOpensPa: split ? EARLY_OPENS_SHARE * deadHeadPa : (earlyPa ?? soundPa),
    reliefMayOpenPa: EARLY_OPENS_SHARE * deadHeadPa,
    reliefOpenPa: openRatio * deadHeadPa,
    deadHeadFromPa: belowDeadHead(stretches, deadHeadPa),
    standbyPa: standbyOf(model, stretches),
    noFlowShare: widestGap(shares, 0.03, 0.15, 0.07),
    fullFlowShare: widestGap(topShares, 0.9, 0.98, 0.95),
  }
}
