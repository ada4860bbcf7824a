import type { PhaseKind } from '@/lib/contract/result'
import type { BesideW } from '@/lib/machine/beside-line'
import { inputFromPowerW, inputFromShaftW, shaftFromReadingW } from '@/lib/machine/electric-side'
import { fullFlowM3S, type MachineModel, partStrokeFlowM3S, pumpShaftW } from '@/lib/machine/machine-model'
import { leakM3S, type ReliefCurve, reliefFlowM3S } from '@/lib/machine/relief'

/** Readings at one moment (or their means over a step), offsets taken out, SI; NaN where not fitted. */
export interface Readings {
  pumpPressurePa: number
  loadPressurePa: number
  pumpFlowM3S: number
  systemFlowM3S: number
  returnFlowM3S: number
  /** Leakage of the pump that leaves by its case. */
  caseDrainM3S: number
  currentA: number
  powerW: number
  voltageV: number
  speedRadS: number
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

export const noFlows = (): NodeFlows => ({ pump: 0, system: 0, relief: 0, unload: 0, residual: 0 })

/**
 * The pump's flow where no meter reads it. A fixed pump gives what it displaces less its leakage: the case drain's,
 * if that is measured, at the logged speed, else at the motor's.
 */
function modelledPumpFlow(read: Readings, kind: PhaseKind, model: MachineModel): number {
  if (!model.isFixed && kind !== 'idle-unloaded') return partStrokeFlowM3S(model, read)
  const full = fullFlowM3S(model, read.pumpPressurePa, read.speedRadS)
  return known(read.caseDrainM3S)
    ? full + model.pump.leakageM3S(read.pumpPressurePa) - read.caseDrainM3S
    : full
}

/**
 * Node balance at the pump outlet: pump = system + relief + unload. The kind of phase leaves one way to tank
 * open at most, so three branches remain: pump, system and tank. A branch keeps what its meter reads. A relief
 * that the kind shuts passes its leak and no more, as surely as if a meter said so. Of the branches still unknown
 * all but one are taken from what is trusted most: that nothing flows into the system while dead-headed, then the
 * pump's model, then the relief's line. The last one closes the balance; where none is left to do so, what
 * the readings contradict is the residual. While unloaded nothing flows into the system, and with an open
 * centre the line meter reads what unloads. The speed of a motor that runs up is not known, nor is its pump's flow.
 * `reliefPa` is the pressure to read the relief's line at (the mean of a step, not one sample).
 */
export function nodeFlows(
  read: Readings,
  kind: PhaseKind,
  model: MachineModel,
  curve: ReliefCurve,
  reliefPa: number,
  out: NodeFlows = noFlows(),
): NodeFlows {
  const unloaded = kind === 'idle-unloaded'
  const deadHeaded = kind === 'idle-loaded' || kind === 'work-holding'
  let pump = read.pumpFlowM3S
  let system = unloaded ? 0 : read.systemFlowM3S
  let tank =
    unloaded && model.machine.unloading.kind === 'open-centre' ? read.systemFlowM3S : read.returnFlowM3S
  if (!unloaded && !known(tank) && (kind === 'work-moving' || !model.isFixed)) {
    tank = leakM3S(curve, read.pumpPressurePa)
  }
  // Nobody works a machine that is running up.
  if (kind === 'starting' && !known(system)) system = 0
  let unknown = (known(pump) ? 0 : 1) + (known(system) ? 0 : 1) + (known(tank) ? 0 : 1)
  out.residual = unknown === 0 ? pump - system - tank : 0
  // Without a stretch that is sure to be dead-headed, what looks like one may be metering.
  if (unknown > 1 && deadHeaded && !known(system) && (curve.deadHeadSeen || known(tank))) {
    system = 0
    unknown--
  }
  if (unknown > 1 && !known(pump) && (kind !== 'starting' || known(read.speedRadS))) {
    pump = modelledPumpFlow(read, kind, model)
    unknown--
  }
  if (unknown > 1) {
    const most = known(pump) ? pump : model.pump.ratedFlowM3S
    const atPa = kind === 'starting' ? read.pumpPressurePa : reliefPa
    tank = Math.min(most, Math.max(reliefFlowM3S(curve, atPa), leakM3S(curve, read.pumpPressurePa)))
    unknown--
  }
  if (unknown > 0) {
    if (!known(pump)) pump = system + tank
    else if (!known(system)) system = pump - tank
    else tank = pump - system
  }
  out.pump = pump
  out.system = system
  out.relief = unloaded ? 0 : tank
  out.unload = unloaded ? tank : 0
  return out
}

/**
 * Where the oil of a fixed pump goes at one moment of a step: at the relief's pressure over the relief, though the step
 * be unloaded but for that moment, as while a valve waits before it vents.
 */
export function kindAtPressure(
  kind: PhaseKind,
  pressurePa: number,
  { isFixed }: Pick<MachineModel, 'isFixed'>,
  curve: Pick<ReliefCurve, 'crackingPa'>,
): PhaseKind {
  return kind === 'idle-unloaded' && isFixed && pressurePa >= curve.crackingPa ? 'idle-loaded' : kind
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

/** What a motor that runs up gives its pump, W: the speed follows from the flow. Nil where the flow is not known. */
function startingShaftW(read: Readings, pumpFlowM3S: number, { pump }: MachineModel): number {
  const turnedM3S = Math.max(0, pumpFlowM3S) + pump.leakageM3S(read.pumpPressurePa)
  const speedRadS = turnedM3S / pump.displacementM3PerRad
  const shaftW =
    Math.max(0, read.pumpPressurePa) * turnedM3S + pump.lossTorqueNm(read.pumpPressurePa) * speedRadS
  return known(shaftW) ? shaftW : 0
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
    const voltageV = known(read.voltageV) ? read.voltageV : motor.ratedVoltageV
    const apparentW = Math.sqrt(3) * voltageV * read.currentA
    const inputW = known(apparentW) ? STARTING_POWER_FACTOR * apparentW : 0
    return powers(out, inputW, startingShaftW(read, pumpFlowM3S, model))
  }
  if (known(read.powerW)) {
    const inputW = inputFromPowerW(model, read.powerW)
    const starting = kind === 'starting'
    return powers(
      out,
      inputW,
      starting ? startingShaftW(read, pumpFlowM3S, model) : shaftFromReadingW(model, read),
    )
  }
  const pumpW = pumpShaftW(model, read.pumpPressurePa, model.isFixed ? null : pumpFlowM3S, read.speedRadS)
  const seenW = shaftFromReadingW(model, read)
  const shaftW = !known(seenW)
    ? pumpW
    : known(pumpW)
      ? currentWeight * seenW + (1 - currentWeight) * pumpW
      : seenW
  return powers(out, inputFromShaftW(model, shaftW, read), shaftW)
}

/** Shares the input over motor, pump and the streams of oil; the parts add up to the input exactly. */
export function streamsAt(
  read: Readings,
  kind: PhaseKind,
  flows: NodeFlows,
  power: { electricW: number; shaftW: number },
  frame: { readonly contradictedW: number; readonly loadShare: number; readonly beside?: BesideW | null },
  out: Streams,
): void {
  out.electricIn = power.electricW
  // Speeding up takes more than the pump does; where a reading says less, it contradicts.
  const shortW = kind === 'starting' ? Math.min(0, power.electricW - power.shaftW) : 0
  out.motorLoss = power.electricW - power.shaftW - shortW
  out.pumpLoss = 0
  out.overRelief = 0
  out.unloading = 0
  out.intoSystem = 0
  out.metering = 0
  out.work = 0
  out.unaccounted = 0
  if (kind === 'stopped') {
    out.motorLoss = 0
    out.unaccounted = power.electricW
    return
  }
  const pressurePa = read.pumpPressurePa
  if (!known(pressurePa) || !known(flows.pump)) {
    out.unaccounted = power.shaftW + shortW
    return
  }
  out.overRelief = pressurePa * flows.relief
  out.unloading = pressurePa * flows.unload
  out.intoSystem = pressurePa * flows.system
  const loadPa = known(read.loadPressurePa) ? read.loadPressurePa : frame.loadShare * pressurePa
  out.work = loadPa * flows.system
  out.metering = out.intoSystem - out.work
  if (frame.beside && kind !== 'starting') {
    out.unloading += frame.beside.unloadedW
    // Nobody measures what circuits of their own do with their oil: into the system, and no known work.
    out.intoSystem += frame.beside.ownCircuitW
    out.metering += frame.beside.ownCircuitW
  }
  out.unaccounted = pressurePa * flows.residual + frame.contradictedW
  out.pumpLoss = power.shaftW - out.overRelief - out.unloading - out.intoSystem - out.unaccounted
  out.unaccounted += shortW
}
