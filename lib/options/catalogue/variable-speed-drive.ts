import { hasFurtherSets, hasPumpBesideLine } from '@/lib/contract/arrangement'
import { driveModel } from '@/lib/machine/drive'
import type { MachineModel } from '@/lib/machine/machine-model'
import { type ReliefCurve, reliefPressurePa } from '@/lib/machine/relief'
import { PA_PER_BAR, RADS_PER_RPM } from '@/lib/units'
import { eachStep } from '../change'
import { isWork, neededPa } from '../demand'
import { note, notJudged, type Option, refused } from '../option'
import { evenly, refusedSetting, shownOf, triedAlong } from '../settings'
import type { WorkingStep } from '../supply'
import { type PowerUnit, replacing } from '../unit'

/** Below this share of rated speed pumps suck badly and their bearings lack oil (common practice, no source). */
const MINIMUM_SPEED_SHARE = 0.25
/** Speeds shown begin below it, so that what it costs is seen. */
const SLOWEST_SHOWN_SHARE = 0.1
const SHOWN = 19
/** Torque a motor on a drive may give for a while, over its rated torque (common practice, no source). */
const TORQUE_LIMIT = 1.5
/** The drive keeps the relief shut: not above its cracking pressure nor this much below its setting, unless the work needs more. */
const BELOW_RELIEF_BAR = 10

/** Drives and motors at low speed differ beyond the tables (common practice, no source). */
const REPLAY_SHARE_SD = 0.025

const CAUTIONS = [
  note('minimum-speed-suction'),
  note('drive-response'),
  note('motor-cooling-low-speed'),
  note('lockout-stored-energy'),
  note('safety-reassessment'),
  note('qualified-person'),
]

/**
 * Pressure at lowest speed with nothing asked for: what the lowest speed gives beyond leakage passes the relief,
 * or leakage takes it all at a lower pressure.
 */
function deadHeadedPa(unit: PowerUnit, slowestRadS: number, relief: ReliefCurve): number {
  const { crackingPa } = relief
  const leak = unit.pump.leakageM3S(crackingPa)
  const surplus = unit.pump.displacementM3PerRad * slowestRadS - leak
  return surplus > 0 ? reliefPressurePa(relief, surplus) : crackingPa * (1 + surplus / leak)
}

/** Pressure that a step is held at with the relief shut, unless its work needs more. */
function heldPa(step: WorkingStep, shutPa: number): number {
  const needPa = neededPa(step)
  return Math.min(step.pressurePa, Number.isNaN(needPa) ? shutPa : Math.max(needPa, shutPa))
}

const flowSpeed = (unit: PowerUnit, flowM3S: number, pressurePa: number) =>
  (Math.max(0, flowM3S) + unit.pump.leakageM3S(pressurePa)) / unit.pump.displacementM3PerRad

function turn(step: WorkingStep, unit: PowerUnit, pressurePa: number, speedRadS: number): void {
  step.unit = unit
  step.pressurePa = pressurePa
  step.reliefM3S = 0
  step.speedRadS = speedRadS
}

/** What the drive does with a step: its unit, the least speed, the pressures it keeps. */
interface Driven {
  readonly slowestRadS: number
  /** Where the relief is surely shut. */
  readonly shutPa: number
  readonly relief: ReliefCurve
}

function drive(step: WorkingStep, unit: PowerUnit, { slowestRadS, shutPa, relief }: Driven): void {
  switch (step.kind) {
    case 'work-moving': {
      const speed = flowSpeed(unit, step.systemM3S, step.pressurePa)
      turn(step, unit, step.pressurePa, Math.max(slowestRadS, speed))
      break
    }
    case 'work-metering': {
      const holdPa = heldPa(step, shutPa)
      turn(step, unit, holdPa, Math.max(slowestRadS, flowSpeed(unit, step.systemM3S, holdPa)))
      break
    }
    case 'work-holding': {
      const holdPa = heldPa(step, shutPa)
      const speed = flowSpeed(unit, step.systemM3S, holdPa)
      if (speed >= slowestRadS) {
        turn(step, unit, holdPa, speed)
        break
      }
      // Slower than it may turn: the rest passes the relief, at the pressure the relief gives it.
      const surplusPa = deadHeadedPa(unit, slowestRadS, relief)
      turn(step, unit, Math.min(step.pressurePa, Math.max(holdPa, surplusPa)), slowestRadS)
      break
    }
    case 'idle-loaded':
      turn(step, unit, Math.min(step.pressurePa, deadHeadedPa(unit, slowestRadS, relief)), slowestRadS)
      break
    case 'idle-unloaded':
      turn(step, unit, step.pressurePa, slowestRadS)
  }
}

/** Speed follows the flow asked for, down to the least speed; the relief is shut while the machine works. */
export const speedControlled = (minimumSpeedShare: number) =>
  eachStep((model: MachineModel) => {
    const converter = driveModel(model.machine.motor)
    const slowestRadS = minimumSpeedShare * model.machine.motor.ratedSpeedRpm * RADS_PER_RPM
    const { relief } = model
    const shutPa = Math.min(relief.crackingPa, relief.settingPa - BELOW_RELIEF_BAR * PA_PER_BAR)
    const driven = { slowestRadS, shutPa, relief }
    const units = replacing(model, (unit) => ({ ...unit, drive: converter }))
    return (step) => {
      if (step.motorOn && !Number.isNaN(step.pressurePa)) drive(step, units(step).after, driven)
    }
  })

/** A frequency converter on the pump's motor: a constant-torque load, so power goes with speed itself. */
export const variableSpeedDrive: Option = {
  id: 'variable-speed-drive',
  plan({ machine, supply, model, rough }, given = {}) {
    const minimumSpeedShare = given.minimumSpeedShare ?? MINIMUM_SPEED_SHARE
    const settings = { minimumSpeedShare }
    if (machine.motor.drive) return refused([note('already-has-drive')], settings)
    if (machine.pump.kind !== 'fixed') return refused([note('pump-already-compensated')], settings)
    if (hasPumpBesideLine(machine) || hasFurtherSets(machine))
      return notJudged(note('several-pumps'), settings)
    const wrong = refusedSetting(given, { minimumSpeedShare: [MINIMUM_SPEED_SHARE, 1] })
    if (wrong) return refused([wrong], settings)
    const ratedTorque = model.motor.ratedShaftW / (machine.motor.ratedSpeedRpm * RADS_PER_RPM)
    let highest = 0
    for (const step of supply) if (step.pressurePa > highest && isWork(step)) highest = step.pressurePa
    const torqueShare = model.pump.torqueNm(highest) / ratedTorque
    if (torqueShare > TORQUE_LIMIT) {
      return refused([note('torque-beyond-motor', { torqueShare, limitShare: TORQUE_LIMIT })], settings)
    }
    return {
      judged: true,
      reasons: [],
      settings,
      change: speedControlled(minimumSpeedShare),
      replayShareSd: REPLAY_SHARE_SD,
      cycleTimeChangeShare: 0,
      searched: triedAlong(
        'minimumSpeedShare',
        shownOf(evenly(SLOWEST_SHOWN_SHARE, 1, SHOWN), minimumSpeedShare),
        rough,
        (share) => ({ change: speedControlled(share), feasible: share >= MINIMUM_SPEED_SHARE }),
      ),
      cautions: CAUTIONS,
    }
  },
}
