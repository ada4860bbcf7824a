import { Matrix, solve } from 'ml-matrix'
import type { Machine } from '@/lib/contract/machine'
import { fullFlowM3S, pumpShaftW } from '@/lib/machine/machine-model'
import type { Step } from '@/lib/phases/stretch'
import type { Sensors } from '@/lib/samples/sensors'
import { type Group, groupSteps } from './groups'
import { LIMIT_TO_SD, modelWith, PARAMETERS, type ParameterValues } from './parameters'
import { corrected } from './readings'

/** One thing that must hold: how far the readings miss it, and how far they may (1 sd, same unit). */
interface Misfit {
  readonly miss: number
  readonly sd: number
}

export interface Reconciled {
  readonly values: ParameterValues
  /** Covariance of `values`, PARAMETERS.length squared. */
  readonly covariance: Matrix
}

/** Pressure band of a group, as a share of the relief setting. */
const BAND_SHARE = 0.05
/** A reading at rest beyond this many times its limit is no offset but a reading. */
const OFFSET_LIMITS = 1.5
/** How well a sensor at rest shows its offset, as a share of its limit. */
const REST_SHARE = 0.1
/** A load may keep a little pressure at rest. */
const REST_LOAD_SHARE = 0.3
/** Misfit of the models themselves: pump flow, nil flow, shaft power (common practice, no source). */
const FLOW_MODEL_SHARE = 0.007
const NIL_FLOW_SHARE = 0.008
const SHAFT_SHARE = 0.015
const SHAFT_RATED_SHARE = 0.01
const AMPERE_SHARE = 0.004
const LEAST_REST_S = 1
/** Misfits beyond this many standard deviations lose weight (Huber). */
const HUBER = 2.5
const ROUNDS = 6

function restMisfits(group: Group, values: ParameterValues, sensors: Sensors): Misfit[] {
  if (group.durationS < LEAST_REST_S) return []
  const read = corrected(group.means, values)
  const raw = group.means
  const pairs: [number, number, { limit: number } | null, number][] = [
    [raw.pumpPressurePa, read.pumpPressurePa, sensors.pumpPressure, REST_SHARE],
    [raw.loadPressurePa, read.loadPressurePa, sensors.loadPressure, REST_LOAD_SHARE],
    [raw.pumpFlowM3S, read.pumpFlowM3S, sensors.pumpFlow, REST_SHARE],
    [raw.systemFlowM3S, read.systemFlowM3S, sensors.systemFlow, REST_SHARE],
    [raw.returnFlowM3S, read.returnFlowM3S, sensors.returnFlow, REST_SHARE],
    [raw.currentA, read.currentA, sensors.current, REST_SHARE],
    [raw.powerW, read.powerW, sensors.power, REST_SHARE],
  ]
  return pairs.flatMap(([reading, miss, sensor, share]) =>
    sensor && !Number.isNaN(reading) && Math.abs(reading) < OFFSET_LIMITS * sensor.limit
      ? [{ miss, sd: share * sensor.limit + Number.MIN_VALUE }]
      : [],
  )
}

function runningMisfits(group: Group, values: ParameterValues, sensors: Sensors, machine: Machine): Misfit[] {
  const model = modelWith(machine, values)
  const read = corrected(group.means, values)
  const { pumpFlowM3S, systemFlowM3S, returnFlowM3S, pumpPressurePa } = read
  const full = fullFlowM3S(model, pumpPressurePa)
  const misfits: Misfit[] = []
  const add = (miss: number, sd: number) => {
    if (!Number.isNaN(miss)) misfits.push({ miss, sd })
  }
  const flowSd = FLOW_MODEL_SHARE * model.pump.ratedFlowM3S
  const nilSd = NIL_FLOW_SHARE * model.pump.ratedFlowM3S
  const deadHeaded = group.kind === 'idle-loaded' || group.kind === 'work-holding'
  const bypasses = group.kind === 'idle-unloaded' && machine.unloading.kind !== 'open-centre'
  if (model.isFixed) {
    add(pumpFlowM3S - full, flowSd)
    if (group.kind === 'work-moving') {
      if (Number.isNaN(returnFlowM3S)) {
        add((Number.isNaN(pumpFlowM3S) ? full : pumpFlowM3S) - systemFlowM3S, flowSd)
      }
    }
    if (deadHeaded || bypasses) {
      add((Number.isNaN(pumpFlowM3S) ? full : pumpFlowM3S) - returnFlowM3S, nilSd)
    }
    add((Number.isNaN(pumpFlowM3S) ? full : pumpFlowM3S) - systemFlowM3S - returnFlowM3S, flowSd)
  }
  if (deadHeaded || bypasses) add(systemFlowM3S, nilSd)
  const flow = model.isFixed ? null : Number.isNaN(pumpFlowM3S) ? systemFlowM3S : pumpFlowM3S
  const shaftW = pumpShaftW(model, pumpPressurePa, flow)
  const shaftSd = SHAFT_SHARE * shaftW + SHAFT_RATED_SHARE * model.motor.ratedShaftW
  if (sensors.power) {
    // Measured outranks estimated: what the pump model expects never moves the power meter's offset.
    const meterSd = sensors.power.limit * LIMIT_TO_SD
    add(model.motor.shaftFromInputW(group.means.powerW) - shaftW, Math.hypot(shaftSd, meterSd))
  } else if (!Number.isNaN(read.currentA)) {
    // In amperes: near no load a small current error is a large power error, never the other way round.
    const ampSd = shaftSd / model.motor.shaftPerAmpere(shaftW) + AMPERE_SHARE * model.motor.ratedCurrentA
    add(read.currentA - model.motor.currentA(shaftW), ampSd)
  }
  return misfits
}

function misfits(groups: readonly Group[], values: ParameterValues, sensors: Sensors, machine: Machine) {
  return groups.flatMap((group) =>
    group.kind === 'stopped'
      ? restMisfits(group, values, sensors)
      : group.kind === 'starting'
        ? []
        : runningMisfits(group, values, sensors, machine),
  )
}

/**
 * Reconciles the readings with each other and with the machine's models by weighted least squares with
 * priors (Gauss–Newton, Huber weights): sensors at rest show their offsets, a closed relief makes pump
 * and system flow one, dead-headed oil does not move a load, shaft power is what the pump takes.
 * Returns parameter values and their covariance (GUM, JCGM 100:2008, linear propagation).
 */
export function reconcile(
  steps: readonly Step[],
  sensors: Sensors,
  machine: Machine,
  prior: Float64Array,
): Reconciled {
  const groups = groupSteps(
    steps,
    BAND_SHARE * modelWith(machine, new Float64Array(PARAMETERS.length)).relief.settingPa,
  )
  const free = PARAMETERS.map((_, k) => k).filter((k) => prior[k] > 0)
  const values = new Float64Array(PARAMETERS.length)
  let information = Matrix.zeros(free.length, free.length)
  for (let round = 0; round < ROUNDS; round++) {
    const here = misfits(groups, values, sensors, machine)
    const slopes = free.map((k) => {
      const moved = Float64Array.from(values)
      const step = 0.02 * prior[k]
      moved[k] += step
      return misfits(groups, moved, sensors, machine).map((m, j) => (m.miss - here[j].miss) / step)
    })
    information = Matrix.zeros(free.length, free.length)
    const gradient = Matrix.zeros(free.length, 1)
    free.forEach((k, a) => {
      information.set(a, a, 1 / prior[k] ** 2)
      gradient.set(a, 0, -values[k] / prior[k] ** 2)
    })
    here.forEach(({ miss, sd }, j) => {
      const size = Math.abs(miss) / sd
      const weight = (size > HUBER ? HUBER / size : 1) / sd ** 2
      for (let a = 0; a < free.length; a++) {
        gradient.set(a, 0, gradient.get(a, 0) - weight * slopes[a][j] * miss)
        for (let b = 0; b < free.length; b++) {
          information.set(a, b, information.get(a, b) + weight * slopes[a][j] * slopes[b][j])
        }
      }
    })
    const scaled = scale(
      information,
      free.map((k) => prior[k]),
    )
    const move = solve(scaled, gradient.mulColumnVector(free.map((k) => prior[k])))
    free.forEach((k, a) => {
      values[k] += prior[k] * move.get(a, 0)
    })
  }
  const sds = free.map((k) => prior[k])
  const inverse = solve(scale(information, sds), Matrix.eye(free.length))
  const covariance = Matrix.zeros(PARAMETERS.length, PARAMETERS.length)
  free.forEach((k, a) => {
    free.forEach((l, b) => {
      covariance.set(k, l, inverse.get(a, b) * sds[a] * sds[b])
    })
  })
  return { values, covariance }
}

/** The matrix in units of the priors, which keeps pascals and amperes apart by no power of ten. */
function scale(matrix: Matrix, sds: readonly number[]): Matrix {
  return Matrix.from1DArray(
    matrix.rows,
    matrix.columns,
    matrix
      .to1DArray()
      .map((value, i) => value * sds[Math.floor(i / matrix.columns)] * sds[i % matrix.columns]),
  )
}
