import type { PhaseKind } from '@/lib/contract/result'
import { fullFlowM3S, inPumpState, type MachineModel, pumpShaftW } from '@/lib/machine/machine-model'
import { type SystemShare, wornShareAt } from './flow-share'
import type { Levels } from './levels'
import { isLoadSensing, standbyShareOf } from './share-levels'
import type { Stretch } from './stretch'

/** Kinds before holds and loaded idles are told apart: `dead-headed` is either. */
export type FirstKind = Exclude<PhaseKind, 'idle-loaded' | 'work-holding'> | 'dead-headed'

/** Inrush: about twice rated current (domain rule). */
const INRUSH_SHARE = 1.8
/** A motor that takes more than this share of what its pump explains has not settled. */
const SETTLED_SHARE = 1.2
/** An inrush lasts less than this (domain rule); settling after it is quicker (common practice, no source). */
const LONGEST_RUN_UP_S = 10
const LONGEST_SETTLING_S = 1.5
/** Where pressure says that the relief is open, less than this share of full flow is metering. */
const OPEN_FULL_SHARE = 0.985

/** A motor that turns takes its no-load input; a reading this far below it may be a drifted zero. */
const MAYBE_RUNNING_SHARE = 1.8
/** A pump that turns gives more than this share of its flow. */
const TURNING_FLOW_SHARE = 0.1

function isRunning(stretch: Stretch, model: MachineModel, levels: Levels): boolean {
  const { powerW, currentA, pumpPressurePa, pumpFlowM3S } = stretch.means
  const reading = Number.isNaN(powerW) ? currentA / levels.runningCurrentA : powerW / levels.runningPowerW
  const pressed = pumpPressurePa > levels.turnsAbovePa
  if (Number.isNaN(reading)) return pressed
  if (reading < 1) return false
  // Little more than the limit: the oil has the last word, where it says clearly that the pump is still.
  const still = model.isFixed && pumpFlowM3S < TURNING_FLOW_SHARE * fullFlowM3S(model, 0)
  return !(reading < MAYBE_RUNNING_SHARE && !pressed && still)
}

/** Inrush, and all that a motor takes beyond what its pump explains, until it settles. */
function isRunningUp({ means, durationS }: Stretch, model: MachineModel): boolean {
  const { motor } = model
  const { currentA, powerW, pumpPressurePa } = means
  if (durationS > LONGEST_RUN_UP_S) return false
  if (currentA > INRUSH_SHARE * motor.ratedCurrentA || powerW > INRUSH_SHARE * motor.ratedInputW) return true
  if (durationS > LONGEST_SETTLING_S) return false
  const shaftW = pumpShaftW(inPumpState(model, means.pumpState), pumpPressurePa)
  return (
    currentA > SETTLED_SHARE * motor.currentA(shaftW) ||
    powerW > SETTLED_SHARE * (shaftW + motor.lossW(shaftW))
  )
}

/**
 * What the oil does in a steady stretch. Flow into the system tells where it is known; pressure alone
 * tells else: at the dead-head level all passes the relief, between opening and that level a part does.
 * @param isRestricted whether the load pressure shows, at a pressure below the dead-head level, that oil is metered
 */
export function classify(
  stretch: Stretch,
  model: MachineModel,
  levels: Levels,
  share: SystemShare,
  before: FirstKind,
  isRestricted: (stretch: Stretch) => boolean,
): FirstKind {
  const { pumpPressurePa } = stretch.means
  if (!isRunning(stretch, model, levels)) return 'stopped'
  if ((before === 'stopped' || before === 'starting') && isRunningUp(stretch, model)) return 'starting'
  if (Number.isNaN(pumpPressurePa)) return before
  const unloads = model.machine.unloading.kind
  const part = share(stretch)
  if (pumpPressurePa < levels.standbyPa && !(part > standbyShareOf(stretch))) return 'dead-headed'
  const low = pumpPressurePa < levels.unloadedBelowPa
  if (unloads === 'open-centre' && low) return 'idle-unloaded'
  if (Number.isNaN(part)) {
    if (low && unloads === 'vented-relief') return 'idle-unloaded'
    if (pumpPressurePa >= levels.deadHeadFromPa && !isRestricted(stretch)) return 'dead-headed'
    return pumpPressurePa >= levels.reliefOpensPa ? 'work-metering' : 'work-moving'
  }
  if (part < levels.noFlowShare) {
    if (!model.isFixed) return low && unloads !== 'none' ? 'idle-unloaded' : 'dead-headed'
    return pumpPressurePa < levels.stillBelowPa ? 'idle-unloaded' : 'dead-headed'
  }
  // A load-sensing pump at part stroke gives what a valve lets through, at whatever pressure the load asks for.
  if (isLoadSensing(model)) return part < levels.fullFlowShare ? 'work-metering' : 'work-moving'
  const full = pumpPressurePa >= levels.reliefOpenPa ? OPEN_FULL_SHARE : levels.fullFlowShare
  const opens = part < full && pumpPressurePa >= levels.reliefOpensPa
  const opensEarly =
    model.isFixed && pumpPressurePa >= levels.reliefMayOpenPa && part < wornShareAt(model, pumpPressurePa)
  return opens || opensEarly ? 'work-metering' : 'work-moving'
}
