import type { Machine } from '@/lib/contract/machine'
import { shaftFromReadingW } from '@/lib/machine/electric-side'
import { fullFlowM3S, inPumpState, type MachineModel, pumpShaftW } from '@/lib/machine/machine-model'
import { leakM3S } from '@/lib/machine/relief'
import type { Sensors } from '@/lib/samples/sensors'
import type { AtRest } from './at-rest'
import type { Group } from './groups'
import { LIMIT_TO_SD, modelWith, type ParameterValues } from './parameters'
import { corrected } from './readings'

/** One thing that must hold: how far the readings miss it, and how far they may (1 sd, same unit). */
export interface Misfit {
  readonly miss: number
  readonly sd: number
}

/** A reading at rest beyond this many times its limit is no offset but a reading. */
const OFFSET_LIMITS = 2
/** How well a sensor at rest shows its offset, as a share of its limit; what noise leaves of the mean comes on top. */
const REST_SHARE = 0.06
/** A load may keep a little pressure at rest. */
const REST_LOAD_SHARE = 0.13
/** Misfit of the models themselves: pump flow, nil flow, shaft power (common practice, no source). */
const FLOW_MODEL_SHARE = 0.007
const NIL_FLOW_SHARE = 0.008
/** Part of a pump's leakage stays inside and never comes by the case (common practice, no source). */
const CASE_SHARE = 0.004
/** A relief set above what a compensated pump gives is shut. */
const SHUT_SHARE = 0.002
const SHAFT_SHARE = 0.015
const SHAFT_RATED_SHARE = 0.01
const AMPERE_SHARE = 0.004
const LEAST_REST_S = 1

function restMisfits(
  group: Group,
  values: ParameterValues,
  sensors: Sensors,
  shown: ReadonlyMap<AtRest, number>,
): Misfit[] {
  if (group.durationS < LEAST_REST_S) return []
  const read = corrected(group.means, values)
  const raw = group.means
  const pairs: [AtRest, number, number, number][] = [
    ['pumpPressure', raw.pumpPressurePa, read.pumpPressurePa, REST_SHARE],
    ['loadPressure', raw.loadPressurePa, read.loadPressurePa, REST_LOAD_SHARE],
    ['pumpFlow', raw.pumpFlowM3S, read.pumpFlowM3S, REST_SHARE],
    ['systemFlow', raw.systemFlowM3S, read.systemFlowM3S, REST_SHARE],
    ['returnFlow', raw.returnFlowM3S, read.returnFlowM3S, REST_SHARE],
    ['caseDrain', raw.caseDrainM3S, read.caseDrainM3S, REST_SHARE],
    ['current', raw.currentA, read.currentA, REST_SHARE],
    ['power', raw.powerW, read.powerW, REST_SHARE],
    ['speed', raw.speedRadS, read.speedRadS, REST_SHARE],
  ]
  return pairs.flatMap(([name, reading, miss, share]) => {
    const limit = sensors[name]?.limit ?? Number.NaN
    const noise = shown.get(name)
    if (noise === undefined || !(Math.abs(reading) < OFFSET_LIMITS * limit)) return []
    return [{ miss, sd: Math.hypot(share * limit, noise / Math.sqrt(group.samples)) + Number.MIN_VALUE }]
  })
}

type Add = (miss: number, sd: number) => void

/** What must hold of a fixed pump's flows; a miss that rests on a meter not fitted is NaN. */
function fixedFlowMisfits(
  { kind, means }: Group,
  values: ParameterValues,
  model: MachineModel,
  add: Add,
): void {
  const read = corrected(means, values)
  const { pumpFlowM3S, systemFlowM3S, returnFlowM3S, pumpPressurePa } = read
  const flowSd = FLOW_MODEL_SHARE * model.pump.ratedFlowM3S
  const nilSd = NIL_FLOW_SHARE * model.pump.ratedFlowM3S
  const leak = leakM3S(model.relief, pumpPressurePa)
  const fed = inPumpState(model, read.pumpState)
  const full = fullFlowM3S(fed, pumpPressurePa, read.speedRadS)
  const pump = Number.isNaN(pumpFlowM3S) ? full : pumpFlowM3S
  const vented = kind === 'idle-unloaded' && model.machine.unloading.kind !== 'open-centre'
  add(pumpFlowM3S - full, flowSd)
  add(read.caseDrainM3S - fed.pump.leakageM3S(pumpPressurePa), CASE_SHARE * model.pump.ratedFlowM3S)
  if (kind === 'work-moving') {
    add(returnFlowM3S - leak, nilSd)
    if (Number.isNaN(returnFlowM3S)) add(pump - systemFlowM3S - leak, flowSd)
  }
  if (kind === 'idle-loaded' || kind === 'work-holding' || vented) {
    add(pump - returnFlowM3S, nilSd)
    add(systemFlowM3S, nilSd)
  }
  add(pump - systemFlowM3S - returnFlowM3S, flowSd)
}

/** The same of a pump that gives what is asked, with the relief set above it. */
function strokedFlowMisfits(
  { kind, means }: Group,
  values: ParameterValues,
  model: MachineModel,
  add: Add,
): void {
  if (kind === 'idle-unloaded') return
  const { pumpFlowM3S, systemFlowM3S, returnFlowM3S } = corrected(means, values)
  add(returnFlowM3S, SHUT_SHARE * model.pump.ratedFlowM3S)
  add(pumpFlowM3S - systemFlowM3S, FLOW_MODEL_SHARE * model.pump.ratedFlowM3S)
  if (kind !== 'idle-loaded' && kind !== 'work-holding') return
  add(systemFlowM3S, NIL_FLOW_SHARE * model.pump.ratedFlowM3S)
  add(pumpFlowM3S, NIL_FLOW_SHARE * model.pump.ratedFlowM3S)
}

/** The shaft gives what the pump takes. */
function shaftMisfit(
  { means }: Group,
  values: ParameterValues,
  sensors: Sensors,
  model: MachineModel,
  add: Add,
) {
  const read = corrected(means, values)
  const { pumpFlowM3S, systemFlowM3S } = read
  const flow = model.isFixed ? null : Number.isNaN(pumpFlowM3S) ? systemFlowM3S : pumpFlowM3S
  const shaftW = pumpShaftW(inPumpState(model, read.pumpState), read.pumpPressurePa, flow, read.speedRadS)
  const shaftSd = SHAFT_SHARE * shaftW + SHAFT_RATED_SHARE * model.motor.ratedShaftW
  if (sensors.power) {
    // Measured outranks estimated: what the pump model expects never moves the power meter's offset.
    const meterSd = sensors.power.limit * LIMIT_TO_SD
    add(shaftFromReadingW(model, { ...read, powerW: means.powerW }) - shaftW, Math.hypot(shaftSd, meterSd))
  } else if (!Number.isNaN(read.currentA) && model.drive) {
    add(shaftFromReadingW(model, read) - shaftW, shaftSd + AMPERE_SHARE * model.motor.ratedShaftW)
  } else if (!Number.isNaN(read.currentA)) {
    // In amperes: near no load a small current error is a large power error, never the other way round.
    const ampSd = shaftSd / model.motor.shaftPerAmpere(shaftW) + AMPERE_SHARE * model.motor.ratedCurrentA
    add(read.currentA - model.motor.currentA(shaftW, read.voltageV), ampSd)
  }
}

/**
 * What must hold if the parameter values are right: sensors at rest read nil, a closed relief passes its leak and
 * no more, dead-headed oil moves no load, shaft power is what the pump takes. The same misfits in the same order
 * for any values.
 */
export function misfits(
  groups: readonly Group[],
  values: ParameterValues,
  sensors: Sensors,
  machine: Machine,
  shownAtRest: ReadonlyMap<AtRest, number>,
): Misfit[] {
  const model = modelWith(machine, values)
  const out: Misfit[] = []
  const add: Add = (miss, sd) => {
    if (!Number.isNaN(miss)) out.push({ miss, sd })
  }
  for (const group of groups) {
    if (group.kind === 'stopped') out.push(...restMisfits(group, values, sensors, shownAtRest))
    if (group.kind === 'stopped' || group.kind === 'starting') continue
    const flowMisfits = model.isFixed ? fixedFlowMisfits : strokedFlowMisfits
    flowMisfits(group, values, model, add)
    shaftMisfit(group, values, sensors, model, add)
  }
  return out
}
