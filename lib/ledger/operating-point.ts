import type { PhaseKind } from '@/lib/contract/result'
import { fullFlowM3S, type MachineModel, partStrokeFlowM3S, pumpShaftW } from '@/lib/machine/machine-model'
import { type ReliefCurve, reliefFlowM3S } from '@/lib/machine/relief'

/** Readings at one moment (or their means over a step), offsets taken out, SI; NaN where not fitted. */
export interface Readings {
  pumpPressurePa: number
  loadPressurePa: number
  pumpFlowM3S: number
  systemFlowM3S: number
  returnFlowM3S: number
  currentA: number
  powerW: number
}

/** Where the electric input goes at one moment, W; metering and work NaN without a load pressure. */
export interface Streams {
  electricIn: number
  motorLoss: number
  pumpLoss: number
  overRelief: number
  unloading: number
  intoSystem: number
  metering: number
  work: number
  unaccounted: number
}

export const noStreams = (): Streams => ({
  electricIn: 0,
  motorLoss: 0,
  pumpLoss: 0,
  overRelief: 0,
  unloading: 0,
  intoSystem: 0,
  metering: 0,
  work: 0,
  unaccounted: 0,
})

/** Flows at the pump's node, m³/s; `residual` is what three meters contradict. */
export interface NodeFlows {
  pump: number
  system: number
  relief: number
  unload: number
  residual: number
}

const known = (value: number) => !Number.isNaN(value)

/** Power factor of a motor while it runs up: common practice, no source. */
const STARTING_POWER_FACTOR = 0.45

/** Fills the balance; hot loops hand in one object and read it again and again. */
function balance(
  out: NodeFlows,
  pump: number,
  system: number,
  relief: number,
  unload = 0,
  residual = 0,
): NodeFlows {
  out.pump = pump
  out.system = system
  out.relief = relief
  out.unload = unload
  out.residual = residual
  return out
}

export const noFlows = (): NodeFlows => ({ pump: 0, system: 0, relief: 0, unload: 0, residual: 0 })

/**
 * Node balance at the pump outlet: pump = system + relief + unload. From any two meters the third
 * follows; from one, the pump model gives the second; with the pump's own flow alone the relief's
 * characteristic and the phase split it. Measured outranks estimated.
 * `reliefPa` is the pressure to read the characteristic at (the mean of a step, not one sample).
 */
export function nodeFlows(
  read: Readings,
  kind: PhaseKind,
  model: MachineModel,
  curve: ReliefCurve,
  reliefPa: number,
  out: NodeFlows = noFlows(),
): NodeFlows {
  const { pumpFlowM3S, systemFlowM3S, returnFlowM3S } = read
  const closed = kind === 'work-moving' || !model.isFixed
  const deadHeaded = kind === 'idle-loaded' || kind === 'work-holding'
  const throughSystemLine = model.machine.unloading.kind === 'open-centre'

  if (kind === 'idle-unloaded') {
    const measured = known(pumpFlowM3S)
      ? pumpFlowM3S
      : known(returnFlowM3S) && !throughSystemLine
        ? returnFlowM3S
        : throughSystemLine && known(systemFlowM3S)
          ? systemFlowM3S
          : fullFlowM3S(model, read.pumpPressurePa)
    return balance(out, measured, 0, 0, measured)
  }
  if (known(pumpFlowM3S) && known(systemFlowM3S) && known(returnFlowM3S)) {
    const residual = pumpFlowM3S - systemFlowM3S - returnFlowM3S
    return balance(out, pumpFlowM3S, systemFlowM3S, returnFlowM3S, 0, residual)
  }
  if (known(returnFlowM3S)) {
    const pump = known(pumpFlowM3S)
      ? pumpFlowM3S
      : known(systemFlowM3S)
        ? systemFlowM3S + returnFlowM3S
        : deadHeaded && model.isFixed
          ? returnFlowM3S
          : model.isFixed
            ? fullFlowM3S(model, read.pumpPressurePa)
            : partStrokeFlowM3S(model, read)
    return balance(out, pump, pump - returnFlowM3S, returnFlowM3S)
  }
  if (known(systemFlowM3S)) {
    if (closed) {
      const pump = known(pumpFlowM3S) ? pumpFlowM3S : systemFlowM3S
      return balance(out, pump, systemFlowM3S, 0, 0, pump - systemFlowM3S)
    }
    const pump = known(pumpFlowM3S) ? pumpFlowM3S : fullFlowM3S(model, read.pumpPressurePa)
    return balance(out, pump, systemFlowM3S, pump - systemFlowM3S)
  }
  const pump = known(pumpFlowM3S)
    ? pumpFlowM3S
    : model.isFixed
      ? fullFlowM3S(model, read.pumpPressurePa)
      : partStrokeFlowM3S(model, read)
  if (closed) return balance(out, pump, pump, 0)
  const relief = deadHeaded && curve.deadHeadSeen ? pump : Math.min(pump, reliefFlowM3S(curve, reliefPa))
  return balance(out, pump, pump - relief, relief)
}

/** Electric input and shaft power at one moment, W. */
export interface ElectricPower {
  electricW: number
  shaftW: number
}

function powers(out: ElectricPower, electricW: number, shaftW: number): ElectricPower {
  out.electricW = electricW
  out.shaftW = shaftW
  return out
}

export function electricPower(
  read: Readings,
  kind: PhaseKind,
  model: MachineModel,
  pumpFlowM3S: number,
  currentWeight: number,
  out: ElectricPower = { electricW: 0, shaftW: 0 },
): ElectricPower {
  const { motor } = model
  if (kind === 'stopped') return powers(out, known(read.powerW) ? read.powerW : 0, 0)
  if (kind === 'starting' && !known(read.powerW)) {
    const apparentW = Math.sqrt(3) * motor.ratedVoltageV * read.currentA
    return powers(out, known(apparentW) ? STARTING_POWER_FACTOR * apparentW : 0, 0)
  }
  if (known(read.powerW)) {
    return powers(out, read.powerW, kind === 'starting' ? 0 : motor.shaftFromInputW(read.powerW))
  }
  const pumpW = pumpShaftW(model, read.pumpPressurePa, model.isFixed ? null : pumpFlowM3S)
  const shaftW = !known(read.currentA)
    ? pumpW
    : known(pumpW)
      ? currentWeight * motor.shaftFromCurrentW(read.currentA) + (1 - currentWeight) * pumpW
      : motor.shaftFromCurrentW(read.currentA)
  return powers(out, shaftW + motor.lossW(shaftW), shaftW)
}

/** Shares the input over motor, pump and the streams of oil; the parts add up to the input exactly. */
export function streamsAt(
  read: Readings,
  kind: PhaseKind,
  flows: NodeFlows,
  power: { electricW: number; shaftW: number },
  frame: { readonly contradictedW: number; readonly loadShare: number },
  out: Streams,
): void {
  out.electricIn = power.electricW
  out.motorLoss = kind === 'starting' ? power.electricW : power.electricW - power.shaftW
  out.pumpLoss = 0
  out.overRelief = 0
  out.unloading = 0
  out.intoSystem = 0
  out.metering = 0
  out.work = 0
  out.unaccounted = 0
  if (kind === 'starting') return
  if (kind === 'stopped') {
    out.motorLoss = 0
    out.unaccounted = power.electricW
    return
  }
  const pressurePa = read.pumpPressurePa
  if (!known(pressurePa) || !known(flows.pump)) {
    out.unaccounted = power.shaftW
    return
  }
  out.overRelief = pressurePa * flows.relief
  out.unloading = pressurePa * flows.unload
  out.intoSystem = pressurePa * flows.system
  const loadPa = known(read.loadPressurePa) ? read.loadPressurePa : frame.loadShare * pressurePa
  out.work = loadPa * flows.system
  out.metering = out.intoSystem - out.work
  out.unaccounted = pressurePa * flows.residual + frame.contradictedW
  out.pumpLoss = power.shaftW - out.overRelief - out.unloading - out.intoSystem - out.unaccounted
}
