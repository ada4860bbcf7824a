import { interpolate } from '@/lib/numeric/interpolate'
import type { MotorModel } from './motor'
import type { PumpModel } from './pump'

/** A motor with its pump, or several alike, among sets that feed one line. */
export interface PumpSet {
  readonly motor: MotorModel
  readonly pump: PumpModel
  /** The pump with every part of it feeding the line: by its torque the sets share a load. */
  readonly loadedPump: PumpModel
  readonly count: number
}

/** Shaft power of one set when its pump works against a pressure, and what goes with it. */
interface SetPoint {
  readonly shaftW: number
  readonly speedRadS: number
}

const TABLE_REACH = 1.6
const TABLE_STEPS = 640
/** Steps of the table between no load and the torque of pumps without pressure. */
const LOW_STEPS = 40
const PHASES_ROOT = Math.sqrt(3)

function pointOf({ motor, loadedPump }: PumpSet, pressurePa: number, torqueShare: number): SetPoint {
  const torqueNm = torqueShare * loadedPump.torqueNm(pressurePa)
  const speedRadS = motor.speedRadS(torqueNm)
  return { shaftW: torqueNm * speedRadS, speedRadS }
}

/** Line current of motors on one feeder: active and reactive parts add, amperes do not. */
function currentOf(sets: readonly PumpSet[], points: readonly SetPoint[]): number {
  let activeA = 0
  let reactiveA = 0
  sets.forEach(({ motor, count }, i) => {
    const { shaftW } = points[i]
    const amps = motor.currentA(shaftW)
    const cosine = Math.min(1, (shaftW + motor.lossW(shaftW)) / (PHASES_ROOT * motor.ratedVoltageV * amps))
    activeA += count * amps * cosine
    reactiveA += count * amps * Math.sqrt(1 - cosine * cosine)
  })
  return Math.hypot(activeA, reactiveA)
}

/** Motors alike under equal loads: each carries its share. */
function alikeMotors(one: MotorModel, count: number): MotorModel {
  return {
    ratedShaftW: count * one.ratedShaftW,
    ratedInputW: count * one.ratedInputW,
    noLoadInputW: count * one.noLoadInputW,
    noLoadCurrentA: count * one.noLoadCurrentA,
    ratedCurrentA: count * one.ratedCurrentA,
    ratedVoltageV: one.ratedVoltageV,
    synchronousRadS: one.synchronousRadS,
    lossW: (shaftW, voltageV) => count * one.lossW(shaftW / count, voltageV),
    shaftFromInputW: (inputW, voltageV) => count * one.shaftFromInputW(inputW / count, voltageV),
    currentA: (shaftW, voltageV) => count * one.currentA(shaftW / count, voltageV),
    shaftFromCurrentW: (amps, voltageV) => count * one.shaftFromCurrentW(amps / count, voltageV),
    shaftPerAmpere: (shaftW) => one.shaftPerAmpere(shaftW / count),
    speedRadS: (torqueNm) => one.speedRadS(torqueNm / count),
  }
}

/**
 * Sets of motor and pump that feed one line as one motor and one pump. All pumps see the line's pressure, so the
 * pressure says how a total of shaft power is shared: the motors' total loss and current follow, tabulated over
 * that total. Speeds are those of the first set's shaft; the others turn in the proportion that their
 * slips give at each load. All sets run, or none: which of them run cannot be told from one meter.
 */
export function setsAsOne(sets: readonly PumpSet[]): { motor: MotorModel; pump: PumpModel } {
  const first = sets[0].motor
  const pump = pumpsAsOne(sets)
  if (sets.every((set) => set.motor === first && set.loadedPump === sets[0].loadedPump)) {
    return {
      motor: alikeMotors(
        first,
        sets.reduce((sum, { count }) => sum + count, 0),
      ),
      pump,
    }
  }
  const total = (of: (set: PumpSet) => number) => sets.reduce((sum, set) => sum + set.count * of(set), 0)
  const ratedShaftW = total(({ motor }) => motor.ratedShaftW)
  const fullPa =
    (TABLE_REACH * ratedShaftW) /
    total(({ motor, pump }) => pump.displacementM3PerRad * motor.synchronousRadS)

  const size = LOW_STEPS + TABLE_STEPS + 1
  const shafts = new Float64Array(size)
  const losses = new Float64Array(size)
  const inputs = new Float64Array(size)
  const currents = new Float64Array(size)
  const torques = new Float64Array(size)
  const speeds = new Float64Array(size)
  for (let k = 0; k < size; k++) {
    const pressurePa = (Math.max(0, k - LOW_STEPS) / TABLE_STEPS) * fullPa
    const points = sets.map((set) => pointOf(set, pressurePa, Math.min(1, k / LOW_STEPS)))
    sets.forEach(({ motor, count }, i) => {
      shafts[k] += count * points[i].shaftW
      losses[k] += count * motor.lossW(points[i].shaftW)
    })
    inputs[k] = shafts[k] + losses[k]
    currents[k] = Math.max(currentOf(sets, points), k > 0 ? currents[k - 1] * (1 + 1e-9) : 0)
    speeds[k] = points[0].speedRadS
    torques[k] = shafts[k] / speeds[k]
  }
  const currentA = (shaftW: number) => interpolate(shafts, currents, Math.max(0, shaftW))
  // At another voltage powers go with its square and currents with itself, as in each motor's own model.
  const over = (voltageV = first.ratedVoltageV) =>
    Number.isNaN(voltageV) ? 1 : voltageV / first.ratedVoltageV
  const stepW = ratedShaftW / TABLE_STEPS
  const motor: MotorModel = {
    ratedShaftW,
    ratedInputW: total(({ motor }) => motor.ratedInputW),
    noLoadInputW: inputs[0],
    noLoadCurrentA: currents[0],
    ratedCurrentA: total(({ motor }) => motor.ratedCurrentA),
    ratedVoltageV: first.ratedVoltageV,
    synchronousRadS: first.synchronousRadS,
    lossW: (shaftW, voltageV) => {
      const square = over(voltageV) ** 2
      return square * interpolate(shafts, losses, shaftW / square)
    },
    currentA: (shaftW, voltageV) => {
      const share = over(voltageV)
      return share * currentA(shaftW / share ** 2)
    },
    shaftFromCurrentW: (amps, voltageV) => {
      const share = over(voltageV)
      return share ** 2 * Math.max(0, interpolate(currents, shafts, amps / share))
    },
    shaftFromInputW: (inputW, voltageV) => {
      const square = over(voltageV) ** 2
      return square * Math.max(0, interpolate(inputs, shafts, inputW / square))
    },
    shaftPerAmpere: (shaftW) => {
      const at = Math.min(Math.max(shaftW, 0), (TABLE_REACH - 0.01) * ratedShaftW)
      return stepW / (currentA(at + stepW) - currentA(at) || Number.EPSILON)
    },
    speedRadS: (torqueNm) => interpolate(torques, speeds, torqueNm),
  }
  return { motor, pump }
}

/** All sets' pumps as one on the first set's shaft: speeds in proportion, torques the other way round. */
function pumpsAsOne(sets: readonly PumpSet[]): PumpModel {
  const speedOf = ({ motor, pump }: PumpSet, pressurePa: number) => motor.speedRadS(pump.torqueNm(pressurePa))
  const sum = (pressurePa: number, of: (set: PumpSet, ratio: number) => number) => {
    const firstRadS = speedOf(sets[0], pressurePa)
    let result = 0
    for (const set of sets) result += set.count * of(set, speedOf(set, pressurePa) / firstRadS)
    return result
  }
  const leakageM3S = (pressurePa: number) => sum(pressurePa, ({ pump }) => pump.leakageM3S(pressurePa))
  const [{ pump: firstPump }, ...others] = sets
  const withFirst = (inState: PumpModel) => pumpsAsOne([{ ...sets[0], pump: inState }, ...others])
  return {
    leakageM3S,
    theoreticalM3S: (pressurePa, speedRadS) =>
      sum(pressurePa, ({ pump }, ratio) => pump.theoreticalM3S(pressurePa, ratio * speedRadS)),
    flowM3S: (pressurePa, speedRadS) =>
      sum(pressurePa, ({ pump }, ratio) => pump.flowM3S(pressurePa, ratio * speedRadS)),
    torqueNm: (pressurePa) => sum(pressurePa, ({ pump }, ratio) => ratio * pump.torqueNm(pressurePa)),
    lossTorqueNm: (pressurePa) => sum(pressurePa, ({ pump }, ratio) => ratio * pump.lossTorqueNm(pressurePa)),
    ratedFlowM3S: sum(0, ({ pump }) => pump.ratedFlowM3S),
    displacementM3PerRad: sum(0, ({ pump }, ratio) => ratio * pump.displacementM3PerRad),
    // Only the first set's shaft may carry pumps beside the line.
    beside: firstPump.beside,
    latch: firstPump.latch && {
      unloadsAbovePa: firstPump.latch.unloadsAbovePa,
      fixed: firstPump.latch.fixed.map(withFirst),
      from: firstPump.latch.from.map(withFirst),
    },
  }
}
