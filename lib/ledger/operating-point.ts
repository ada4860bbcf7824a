import type { PhaseKind } from '@/lib/contract/result'
import type { BesideW } from '@/lib/machine/beside-line'
import { inputFromPowerW, inputFromShaftW, shaftFromReadingW } from '@/lib/machine/electric-side'
import {
  fullFlowM3S,
  inPumpState,
  type MachineModel,
  partStrokeFlowM3S,
  pumpShaftW,
} from '@/lib/machine/machine-model'
import { leakM3S, type ReliefCurve, reliefFlowM3S } from '@/lib/machine/relief'
import { nodePlan } from './node-plan'

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
  /** State of the pumps that unload by the line's pressure; NaN where there are none. */
  pumpState: number
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
export function modelledPumpFlow(read: Readings, kind: PhaseKind, model: MachineModel): number {
  if (!model.isFixed && kind !== 'idle-unloaded') return partStrokeFlowM3S(model, read)
  const { pumpPressurePa } = read
  const fed = inPumpState(model, read.pumpState)
  const full = fullFlowM3S(fed, pumpPressurePa, read.speedRadS)
  return known(read.caseDrainM3S) ? full + fed.pump.leakageM3S(pumpPressurePa) - read.caseDrainM3S : full
}

/** Flow over the relief by its line, no more than the pump can give, m³/s. */
export function reliefLineM3S(
  curve: ReliefCurve,
  reliefPa: number,
  pressurePa: number,
  pumpM3S: number,
  { pump }: MachineModel,
): number {
  const most = known(pumpM3S) ? pumpM3S : pump.ratedFlowM3S
  return Math.min(most, Math.max(reliefFlowM3S(curve, reliefPa), leakM3S(curve, pressurePa)))
}

/**
 * Node balance at the pump outlet: pump = system + relief + unload, by the plan of what is read (node-plan.ts);
 * where all is told, what the readings contradict is the residual.
 * `reliefPa` is the pressure to read the relief's line at (the mean of a step, not one sample).
 */
export function nodeFlows(
  read: Readings,
  kind: PhaseKind,
  model: MachineModel,
  curve: ReliefCurve,
  reliefPa: number,
  isSteady = true,
  out: NodeFlows = noFlows(),
): NodeFlows {
  const plan = nodePlan(kind, read, model, curve, isSteady)
  let pump = plan.pump === 'model' ? modelledPumpFlow(read, kind, model) : read.pumpFlowM3S
  let system = plan.system === 'nothing' ? 0 : read.systemFlowM3S
  let tank = plan.tank === 'line-meter' ? read.systemFlowM3S : read.returnFlowM3S
  if (plan.tank === 'leak') tank = leakM3S(curve, read.pumpPressurePa)
  else if (plan.tank === 'relief-line') {
    const atPa = kind === 'starting' ? read.pumpPressurePa : reliefPa
    tank = reliefLineM3S(curve, atPa, read.pumpPressurePa, pump, model)
  }
  if (plan.pump === 'balance') pump = system + tank
  else if (plan.system === 'balance') system = pump - tank
  else if (plan.tank === 'balance') tank = pump - system
  const unloaded = kind === 'idle-unloaded'
  out.pump = pump
  out.system = system
  out.relief = unloaded ? 0 : tank
  out.unload = unloaded ? tank : 0
  out.residual = plan.isOverdetermined ? pump - system - tank : 0
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

/** Shaft power by a current's word and by the pump's, each where it is known, W. */
export function weighedShaftW(seenW: number, pumpW: number, currentWeight: number): number {
  if (!known(seenW)) return pumpW
  return known(pumpW) ? currentWeight * seenW + (1 - currentWeight) * pumpW : seenW
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
  const fed = inPumpState(model, read.pumpState)
  const pumpW = pumpShaftW(fed, read.pumpPressurePa, model.isFixed ? null : pumpFlowM3S, read.speedRadS)
  const shaftW = weighedShaftW(shaftFromReadingW(model, read), pumpW, currentWeight)
  return powers(out, inputFromShaftW(model, shaftW, read), shaftW)
}

/** What the streams are made of by adding alone: powers of a moment in W, or energies of a run of one kind in J. */
export interface Amounts {
  input: number
  shaft: number
  /** Of the shaft: where pressure or flow is not known, so that nothing tells where it goes. */
  untoldShaft: number
  /** Speeding up takes more than the pump does; where a reading says less, it contradicts. Nil or negative. */
  short: number
  /** Hydraulic: to tank, into the system and of that into loads, and what three flow meters contradict. */
  toTank: number
  intoLine: number
  work: number
  residual: number
  /** Time in which pressure and flow are known, s; 1 for a moment in which they are. */
  seconds: number
}

export const noAmounts = (): Amounts => ({
  input: 0,
  shaft: 0,
  untoldShaft: 0,
  short: 0,
  toTank: 0,
  intoLine: 0,
  work: 0,
  residual: 0,
  seconds: 0,
})

/** What streams take from their step. */
export type StreamFrame = {
  readonly contradictedW: number
  readonly loadShare: number
  readonly beside?: BesideW | null
}

/** Shares the input over motor, pump and the streams of oil; the parts add up to the input exactly. */
export function streamsOf(
  amounts: Amounts,
  kind: PhaseKind,
  { contradictedW, beside }: StreamFrame,
  out: Streams,
): void {
  const { input, shaft, short, seconds } = amounts
  const isStopped = kind === 'stopped'
  const unloaded = kind === 'idle-unloaded'
  const besideS = beside && kind !== 'starting' && !isStopped ? seconds : 0
  // Nobody measures what circuits of their own do with their oil: into the system, and no known work.
  const ownCircuit = besideS > 0 && beside ? besideS * beside.ownCircuitW : 0
  const unloadedBeside = besideS > 0 && beside ? besideS * beside.unloadedW : 0
  const contradicted = amounts.residual + contradictedW * seconds
  out.electricIn = input
  out.motorLoss = isStopped ? 0 : input - shaft - short
  out.overRelief = unloaded ? 0 : amounts.toTank
  out.unloading = (unloaded ? amounts.toTank : 0) + unloadedBeside
  out.intoSystem = amounts.intoLine + ownCircuit
  out.metering = amounts.intoLine - amounts.work + ownCircuit
  out.work = amounts.work
  out.unaccounted = isStopped ? input : contradicted + amounts.untoldShaft + short
  out.pumpLoss = isStopped
    ? 0
    : shaft - amounts.untoldShaft - out.overRelief - out.unloading - out.intoSystem - contradicted
}

const amountsThere = noAmounts()

/** The streams of one moment, W. */
export function streamsAt(
  read: Readings,
  kind: PhaseKind,
  flows: NodeFlows,
  { electricW, shaftW }: ElectricPower,
  frame: StreamFrame,
  out: Streams,
): void {
  const pressurePa = read.pumpPressurePa
  const isTold = kind !== 'stopped' && known(pressurePa) && known(flows.pump)
  const loadPa = known(read.loadPressurePa) ? read.loadPressurePa : frame.loadShare * pressurePa
  const it = amountsThere
  it.input = electricW
  it.shaft = shaftW
  it.untoldShaft = isTold ? 0 : shaftW
  it.short = kind === 'starting' ? Math.min(0, electricW - shaftW) : 0
  it.toTank = isTold ? pressurePa * (flows.relief + flows.unload) : 0
  it.intoLine = isTold ? pressurePa * flows.system : 0
  it.work = isTold ? loadPa * flows.system : 0
  it.residual = isTold ? pressurePa * flows.residual : 0
  it.seconds = isTold ? 1 : 0
  streamsOf(it, kind, frame, out)
}
