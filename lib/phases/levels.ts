import { fullFlowM3S, type MachineModel } from '@/lib/machine/machine-model'
import { reliefPressurePa } from '@/lib/machine/relief'
import { weightedQuantile } from '@/lib/numeric/weighted-quantile'
import { isLevel, LEVEL_STRETCH_S, opensRatioOf, type SystemShare } from './flow-share'
import type { GivenSi } from './given-levels'
import { longestHoldOf } from './holds'
import { loadIsAtRest, loadIsBehindRestriction } from './load-tells'
import { openingPa } from './opening'
import { lowestRecurringPa } from './recurring'
import { isLoadSensing, shareLevels, standbyOf } from './share-levels'
import type { Stretch } from './stretch'
import { widestGap } from './widest-gap'

/** Levels that tell the phase kinds apart: found in the log, or given instead. */
export interface Levels {
  /** Motor current (A) or input (W) above which the motor turns. */
  readonly runningCurrentA: number
  readonly runningPowerW: number
  /** Pressure with the whole flow over the relief, Pa. */
  readonly deadHeadPa: number
  /** Below it the pump is unloaded where the oil has a way to tank at low pressure, Pa. */
  readonly unloadedBelowPa: number
  /** Where flow shows that no oil moves, a fixed pump is unloaded below it, Pa. */
  readonly stillBelowPa: number
  /** Where nothing electric is logged, the pump turns above it, Pa. */
  readonly turnsAbovePa: number
  /** Above it the relief may be open, Pa. */
  readonly reliefOpensPa: number
  /** Below it a relief is taken for open only because levels come back alike, Pa; nil where none is. */
  readonly earlyBelowPa: number
  /** Above it a relief that opens far too early may be open, Pa. */
  readonly reliefMayOpenPa: number
  /** Above it a healthy relief is open, Pa. */
  readonly reliefOpenPa: number
  /** At and above it, where no flow tells, the whole flow passes the relief, Pa. */
  readonly deadHeadFromPa: number
  /** Below it a load-sensing pump stands by, Pa; nil for other pumps. */
  readonly standbyPa: number
  /** Whether the machine was seen to idle with its pump unloaded: then no length makes metering an idle. */
  readonly unloads: boolean
  /** Shares of full flow into the system: below the first none moves, above the second all. */
  readonly noFlowShare: number
  readonly fullFlowShare: number
  /** Whether the log itself shows the level, or what the machine's data say stands in. */
  readonly deadHeadSeen: boolean
  readonly unloadedSeen: boolean
  readonly openingSeen: boolean
  readonly noFlowSeen: boolean
  readonly fullFlowSeen: boolean
}

/** Neighbouring levels nearer than this share of the dead-head pressure are one. */
const SAME_LEVEL_SHARE = 0.002
const LOWEST_DEAD_HEAD_SHARE = 0.98
/** A pump that turns has more than this share of the pressure that parts unloaded from loaded. */
const TURNING_PRESSURE_SHARE = 0.25
const STILL_SHARE = 0.5

/** Standard error of a stretch's mean pressure by noise alone, Pa. */
export type ErrorOf = (stretch: Stretch) => number

/** Means further apart than this many standard errors differ by more than noise. */
const APART = 3

/** Two means of pressure lie further apart than noise, and than levels that are one, can tell apart. */
export const isBelow = (lowerPa: number, upperPa: number, errorPa: number, deadHeadPa: number) =>
  upperPa - lowerPa > Math.max(SAME_LEVEL_SHARE * deadHeadPa, APART * errorPa)

/** Middle of the first empty band below the dead-head level, Pa: above it all flow passes the relief. */
function belowDeadHead(stretches: readonly Stretch[], deadHeadPa: number, errorOf: ErrorOf): number {
  const levels = stretches
    .filter((s) => isLevel(s) && s.means.pumpPressurePa <= deadHeadPa)
    .map((s) => ({ level: s.means.pumpPressurePa, error: errorOf(s) }))
    .sort((a, b) => b.level - a.level)
  const lowest = LOWEST_DEAD_HEAD_SHARE * deadHeadPa
  let last = { level: deadHeadPa, error: 0 }
  for (const next of levels) {
    if (isBelow(next.level, last.level, Math.hypot(last.error, next.error), deadHeadPa)) {
      return Math.max((last.level + Math.max(next.level, lowest)) / 2, lowest)
    }
    last = next
  }
  return lowest
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

/** Two meters see a valve open that opens far too early; one meter and a pump model would take it for a worn pump. */
const EARLY_OPENS_SHARE = 0.4

/** A compensator strokes its pump back from this share of the dead-head pressure on (common practice, no source). */
const STROKES_BACK_SHARE = 0.88

function splitIsMeasured(stretches: readonly Stretch[]): boolean {
  return stretches.some(({ means }) => {
    const meters = [means.pumpFlowM3S, means.systemFlowM3S, means.returnFlowM3S]
    return meters.filter((flow) => !Number.isNaN(flow)).length >= 2
  })
}

function seenUnloaded(model: MachineModel, stretches: readonly Stretch[]): boolean {
  const isUnloaded = ({ durationS, means: { pumpPressurePa } }: Stretch) =>
    durationS >= LEVEL_STRETCH_S &&
    pumpPressurePa > 0.5 * model.unloadingPa &&
    pumpPressurePa < 2 * model.unloadingPa
  return model.machine.unloading.kind !== 'none' && stretches.some(isUnloaded)
}

/**
 * Finds the levels from the log's own steady stretches; nobody types a threshold for a first result.
 * @param given outranks what is found; levels that hang on a given one follow it
 */
export function findLevels(
  model: MachineModel,
  stretches: readonly Stretch[],
  share: SystemShare,
  pressureErrorPa: ErrorOf,
  given: GivenSi = {},
): Levels {
  const { motor, relief, machine } = model
  const setting = relief.settingPa
  const opensRatio = opensRatioOf(model)
  const openRatio = machine.relief.kind === 'pilot-operated' ? 0.96 : 0.88

  const expectedPa = reliefPressurePa(relief, fullFlowM3S(model, setting))
  const toldBy = (nothingMoves: (stretch: Stretch) => boolean) =>
    stretches.filter(
      (s) => nothingMoves(s) && s.means.pumpPressurePa > 0.5 * setting && s.durationS >= LEVEL_STRETCH_S,
    )
  const byFlows = toldBy((s) => share(s) < 0.1)
  const byLoad = model.isFixed ? toldBy((s) => isLevel(s) && loadIsAtRest(s)) : []
  const told = byFlows.length > 0 ? byFlows : byLoad
  const high = stretches.filter((s) => s.means.pumpPressurePa > 0.8 * setting)
  const weigh = (list: Stretch[], part: number) =>
    weightedQuantile(
      list.map((s) => s.means.pumpPressurePa),
      list.map((s) => s.durationS),
      part,
    )
  const flowsTell = stretches.some((s) => !Number.isNaN(share(s)))
  const top = weigh(
    high.filter((s) => !loadIsBehindRestriction(s)),
    0.95,
  )
  const unloads = seenUnloaded(model, stretches)
  const believed =
    top >= NEAR_NAMEPLATE_SHARE * expectedPa ||
    (longestAtS(stretches, top) > longestHoldOf(machine) && !unloads)
  const found = told.length > 0 ? weigh(told, 0.5) : flowsTell || !believed ? Number.NaN : top
  const deadHeadPa = given.deadHeadPa ?? (Number.isNaN(found) ? expectedPa : found)

  const near = stretches
    .filter(isLevel)
    .map((s) => s.means.pumpPressurePa)
    .filter((value) => value > 0.6 * model.unloadingPa && value < 0.5 * deadHeadPa)
    .map((value) => Math.log(value))
  const lowest = Math.log(1.3 * model.unloadingPa)
  const highest = Math.log(
    Math.max(1.5 * model.unloadingPa, Math.min(4 * model.unloadingPa, 0.5 * deadHeadPa)),
  )
  const unloadedPa = Math.exp(widestGap(near, lowest, highest) ?? Math.log(2 * model.unloadingPa))
  // A compensated pump gives all it has until its compensator strokes it back, just below the dead-head pressure.
  const split = model.isFixed && splitIsMeasured(stretches)
  const soundPa = (model.isFixed ? opensRatio : STROKES_BACK_SHARE) * deadHeadPa
  const byFlow = split || byFlows.length === 0 ? null : openingPa(stretches, model, deadHeadPa, soundPa)
  // Where pressure alone tells, a level below that comes back alike is a relief that opens early and no load.
  const byRecurring =
    model.isFixed && !flowsTell && !Number.isNaN(found)
      ? lowestRecurringPa(stretches, { deadHeadPa, soundPa, unloadedPa }, pressureErrorPa)
      : null
  const opensPa = byFlow ?? byRecurring
  const standbyPa = (isLoadSensing(model) ? given.standbyPa : undefined) ?? standbyOf(model, stretches, share)
  const shares = shareLevels(model, stretches, share, { deadHeadPa, standbyPa })
  return {
    runningCurrentA: given.runningCurrentA ?? 0.5 * motor.noLoadCurrentA,
    runningPowerW: given.runningPowerW ?? 0.5 * motor.noLoadInputW,
    deadHeadPa,
    unloadedBelowPa: given.unloadedBelowPa ?? unloadedPa,
    stillBelowPa: given.unloadedBelowPa ?? STILL_SHARE * deadHeadPa,
    turnsAbovePa: TURNING_PRESSURE_SHARE * unloadedPa,
    reliefOpensPa: given.reliefOpensPa ?? (split ? EARLY_OPENS_SHARE * deadHeadPa : (opensPa ?? soundPa)),
    earlyBelowPa: byRecurring !== null && given.reliefOpensPa === undefined ? soundPa : 0,
    reliefMayOpenPa: given.reliefOpensPa ?? EARLY_OPENS_SHARE * deadHeadPa,
    reliefOpenPa: Math.max(openRatio * deadHeadPa, given.reliefOpensPa ?? 0),
    deadHeadFromPa: given.deadHeadFromPa ?? belowDeadHead(stretches, deadHeadPa, pressureErrorPa),
    standbyPa,
    unloads,
    noFlowShare: given.noFlowShare ?? shares.noFlow.value,
    fullFlowShare: given.fullFlowShare ?? shares.fullFlow.value,
    deadHeadSeen: !Number.isNaN(found),
    unloadedSeen: near.some((value) => value > lowest && value < highest),
    openingSeen: opensPa !== null && opensPa !== soundPa,
    noFlowSeen: shares.noFlow.isSeen,
    fullFlowSeen: shares.fullFlow.isSeen,
  }
}
