import type { Auxiliary, Machine } from '@/lib/contract/machine'
import type { MotorModel } from '@/lib/machine/motor'
import { interpolate } from '@/lib/numeric/interpolate'
import { readerOf, type Samples } from '@/lib/samples/samples'
import type { Sensor, Sensors } from '@/lib/samples/sensors'
import { W_PER_KW } from '@/lib/units'

/** Declared auxiliaries of one sort together: power, its phasor, and the 95 % limit of what was declared. */
interface Together {
  readonly powerW: number
  readonly reactiveVar: number
  readonly limitW: number
  readonly limitVA: number
}

function together(auxiliaries: readonly Auxiliary[], when: Auxiliary['when']): Together {
  let powerW = 0
  let reactiveVar = 0
  let squaresW = 0
  let squaresVA = 0
  for (const { powerKW, powerFactor, accuracyPercent, when: its } of auxiliaries) {
    if (its !== when) continue
    const itsW = powerKW * W_PER_KW
    powerW += itsW
    reactiveVar += itsW * Math.sqrt(1 / powerFactor ** 2 - 1)
    squaresW += ((accuracyPercent / 100) * itsW) ** 2
    squaresVA += (((accuracyPercent / 100) * itsW) / powerFactor) ** 2
  }
  return { powerW, reactiveVar, limitW: Math.sqrt(squaresW), limitVA: Math.sqrt(squaresVA) }
}

/** Auxiliaries of a machine as taken off its meter. */
export interface AuxiliaryLoad {
  readonly always: Together
  readonly whileRunning: Together
  /** Logged time in which those that run with the motor ran, s; null where no electric reading tells. */
  readonly runningS: number | null
}

/** What a reading of the whole feeder leaves for the motor, and whether its companions run (0 to 1). */
interface Split {
  readonly motor: number
  readonly running: number
}

const ROOT3 = Math.sqrt(3)
const TABLE_STEPS = 200
const TABLE_REACH = 1.6

/** Up to this share of the way from the standing auxiliaries to the unloaded motor with its companions nothing runs. */
const STANDING_UP_TO = 0.25
/** From this share of the motor's own no-load reading on, above everything else, it turns. */
const TURNING_FROM = 0.5

/** How far a reading has come from standing (0) to running (1): no steady state lies between, and nothing jumps. */
function running(reading: number, upTo: number, from: number): number {
  return Math.min(1, Math.max(0, (reading - upTo) / (from - upTo)))
}

/** Takes the auxiliaries off a reading of power, W. */
function powerSplitter(always: Together, whileRunning: Together, motor: MotorModel) {
  const standingW = always.powerW
  const upTo = standingW + STANDING_UP_TO * (whileRunning.powerW + motor.noLoadInputW)
  const from = standingW + whileRunning.powerW + TURNING_FROM * motor.noLoadInputW
  return (reading: number): Split => {
    const part = running(reading, upTo, from)
    return { motor: reading - standingW - part * whileRunning.powerW, running: part }
  }
}

/** Takes the auxiliaries off a reading of current, A: as phasors, with the motor's power factor at each load. */
function currentSplitter(always: Together, whileRunning: Together, motor: MotorModel) {
  const perAmpere = ROOT3 * motor.ratedVoltageV
  const activeW = always.powerW + whileRunning.powerW
  const reactiveVar = always.reactiveVar + whileRunning.reactiveVar
  const feeders = new Float64Array(TABLE_STEPS + 1)
  const motors = new Float64Array(TABLE_STEPS + 1)
  for (let k = 0; k <= TABLE_STEPS; k++) {
    const shaftW = (k / TABLE_STEPS) * TABLE_REACH * motor.ratedShaftW
    motors[k] = motor.currentA(shaftW)
    const motorW = shaftW + motor.lossW(shaftW)
    const motorVar = Math.sqrt(Math.max(0, (perAmpere * motors[k]) ** 2 - motorW ** 2))
    feeders[k] = Math.hypot(motorW + activeW, motorVar + reactiveVar) / perAmpere
  }
  const standingA = Math.hypot(always.powerW, always.reactiveVar) / perAmpere
  const upTo = standingA + STANDING_UP_TO * (feeders[0] - standingA)
  const from = feeders[0] - TURNING_FROM * motors[0]
  return (reading: number): Split => {
    const part = running(reading, Math.min(upTo, from), Math.max(upTo, from))
    const turningA = part > 0 ? interpolate(feeders, motors, reading) : 0
    return { motor: (1 - part) * (reading - standingA) + part * turningA, running: part }
  }
}

function splitSensor(sensor: Sensor, split: (reading: number) => Split, limit: number, holdS: Samples) {
  const [readings, holds] = [readerOf(sensor.values), readerOf(holdS)]
  const values = new Float64Array(readings.length)
  let runningS = 0
  let running = 0
  for (let i = 0; i < values.length; i++) {
    const reading = readings.at(i)
    if (Number.isNaN(reading)) values[i] = Number.NaN
    else {
      const parts = split(reading)
      values[i] = parts.motor
      running = parts.running
    }
    runningS += running * holds.at(i)
  }
  return { sensor: { ...sensor, values, limit: Math.hypot(sensor.limit, limit) }, runningS }
}

/**
 * Takes declared auxiliaries on the motor's feeder off power and current, before anything looks at them. How well
 * those that always run are known widens the sensor's limit: at rest the sensor shows both errors together, and
 * both are taken off together. Null for the load where none is declared. One that comes and goes by itself
 * (a thermostat's) cannot be told from one meter: it counts with its declared mean.
 */
export function withoutAuxiliaries(
  sensors: Sensors,
  { auxiliaries = [] }: Machine,
  motor: MotorModel,
  holdS: Samples,
): { sensors: Sensors; load: AuxiliaryLoad | null } {
  if (auxiliaries.length === 0) return { sensors, load: null }
  const always = together(auxiliaries, 'always')
  const whileRunning = together(auxiliaries, 'motor-running')
  const perAmpere = ROOT3 * motor.ratedVoltageV
  const power =
    sensors.power &&
    splitSensor(sensors.power, powerSplitter(always, whileRunning, motor), always.limitW, holdS)
  const current =
    sensors.current &&
    splitSensor(
      sensors.current,
      currentSplitter(always, whileRunning, motor),
      always.limitVA / perAmpere,
      holdS,
    )
  return {
    sensors: { ...sensors, power: power?.sensor ?? null, current: current?.sensor ?? null },
    load: { always, whileRunning, runningS: (power ?? current)?.runningS ?? null },
  }
}
