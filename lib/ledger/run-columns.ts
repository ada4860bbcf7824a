import type { PhaseKind } from '@/lib/contract/result'
import type { MachineModel } from '@/lib/machine/machine-model'
import { leakM3S, type ReliefCurve } from '@/lib/machine/relief'
import type { SampleReader } from '@/lib/samples/samples'
import { ACCOUNT_KEYS, type AccountSeries } from './account-series'
import { type Columns, column } from './columns'
import { nodePlan } from './node-plan'
import {
  modelledPumpFlow,
  noAmounts,
  noStreams,
  type Readings,
  reliefLineM3S,
  streamsOf,
} from './operating-point'
import { powerFiller } from './power-columns'
import type { StepFrame } from './step-frame'

/** Places [begin, end) of the columns, samples of one step and one kind. */
export interface Run {
  readonly kind: PhaseKind
  readonly begin: number
  readonly end: number
  readonly frame: StepFrame
  /** Pressure to read the relief's line at, Pa; null: each sample's own. */
  readonly reliefPa: number | null
}

/** Flows of a run at the pump's outlet, m³/s, and what they meet. */
interface FlowColumns {
  readonly pump: Float64Array
  readonly system: Float64Array
  readonly tank: Float64Array
  /** Pressure that loads need, Pa. */
  readonly load: Float64Array
  readonly isOverdetermined: boolean
}

/** The samples of a run, worked out one way or the other. */
export interface RunColumns {
  /** Adds a run's energies in J to `energiesJ` from `at` on; the sample at place 0 is number `first` of `holdS`. */
  addEnergies(
    run: Run,
    read: Readings,
    holdS: SampleReader,
    first: number,
    energiesJ: Float64Array,
    at: number,
  ): void
  /** Powers of every sample, W, at the run's places. */
  fill(run: Run, read: Readings, into: AccountSeries): void
}

/**
 * Works out runs of samples array by array: what one moment comes to is said in operating-point.ts, and what decides
 * the way there is the same all through a run. `read` tells which readings there are, and is written over.
 */
export function runColumns(columns: Columns, model: MachineModel, curve: ReliefCurve): RunColumns {
  const { pumpPressurePa: pressure, loadPressurePa, pumpFlowM3S, systemFlowM3S, returnFlowM3S } = columns.of
  const fillPower = powerFiller(columns, model)
  const [pumpRoom, systemRoom, tankRoom, loadRoom] = [column(), column(), column(), column()]
  const [electricW, shaftW] = [column(), column()]
  const amounts = noAmounts()
  const streams = noStreams()

  const loadOf = ({ begin, end, frame }: Run, read: Readings) => {
    if (!Number.isNaN(read.loadPressurePa)) return loadPressurePa
    for (let i = begin; i < end; i++) loadRoom[i] = frame.loadShare * pressure[i]
    return loadRoom
  }

  const flowsOf = (run: Run, read: Readings): FlowColumns => {
    const { kind, begin, end, reliefPa, frame } = run
    const plan = nodePlan(kind, read, model, curve, frame.isSteady)
    const pump = plan.pump === 'meter' ? pumpFlowM3S : pumpRoom
    const system = plan.system === 'meter' ? systemFlowM3S : systemRoom
    const isMetered = plan.tank === 'return-meter' || plan.tank === 'line-meter'
    const tank = !isMetered ? tankRoom : plan.tank === 'line-meter' ? systemFlowM3S : returnFlowM3S
    if (plan.system === 'nothing') system.fill(0, begin, end)
    if (plan.pump === 'model') {
      for (let i = begin; i < end; i++) {
        columns.readAt(i, read)
        pump[i] = modelledPumpFlow(read, kind, model)
      }
    }
    if (plan.tank === 'leak') {
      for (let i = begin; i < end; i++) tank[i] = leakM3S(curve, pressure[i])
    }
    if (plan.tank === 'relief-line') {
      const most = plan.pump === 'balance' ? pumpFlowM3S : pump
      for (let i = begin; i < end; i++) {
        tank[i] = reliefLineM3S(curve, reliefPa ?? pressure[i], pressure[i], most[i], model)
      }
    }
    if (plan.pump === 'balance') {
      for (let i = begin; i < end; i++) pump[i] = system[i] + tank[i]
    } else if (plan.system === 'balance') {
      for (let i = begin; i < end; i++) system[i] = pump[i] - tank[i]
    } else if (plan.tank === 'balance') {
      for (let i = begin; i < end; i++) tank[i] = pump[i] - system[i]
    }
    return { pump, system, tank, load: loadOf(run, read), isOverdetermined: plan.isOverdetermined }
  }

  /** What the samples at places [begin, end) amount to, each for as long as it holds; for a second without `holdS`. */
  const amountTo = (
    begin: number,
    end: number,
    { kind }: Run,
    flows: FlowColumns,
    holdS: SampleReader | null,
    first: number,
  ) => {
    const { pump, system, tank, load, isOverdetermined } = flows
    const isStopped = kind === 'stopped'
    const isStarting = kind === 'starting'
    let [input, shaft, untoldShaft, short, toTank] = [0, 0, 0, 0, 0]
    let [intoLine, intoLoad, residual, told] = [0, 0, 0, 0]
    for (let i = begin; i < end; i++) {
      const seconds = holdS === null ? 1 : holdS.at(first + i)
      const inputJ = electricW[i] * seconds
      const shaftJ = shaftW[i] * seconds
      const pressureS = pressure[i] * seconds
      input += inputJ
      shaft += shaftJ
      if (isStarting) short += Math.min(0, inputJ - shaftJ)
      if (isStopped || Number.isNaN(pressureS) || Number.isNaN(pump[i])) {
        untoldShaft += shaftJ
        continue
      }
      told += seconds
      toTank += pressureS * tank[i]
      intoLine += pressureS * system[i]
      intoLoad += load[i] * system[i] * seconds
      if (isOverdetermined) residual += pressureS * (pump[i] - system[i] - tank[i])
    }
    amounts.input = input
    amounts.shaft = shaft
    amounts.untoldShaft = untoldShaft
    amounts.short = short
    amounts.toTank = toTank
    amounts.intoLine = intoLine
    amounts.work = intoLoad
    amounts.residual = residual
    amounts.seconds = told
  }

  const workOut = (run: Run, read: Readings): FlowColumns => {
    const flows = flowsOf(run, read)
    fillPower(run, read, flows.pump, electricW, shaftW)
    return flows
  }

  return {
    addEnergies: (run, read, holdS, first, energiesJ, at) => {
      const { kind, begin, end, frame } = run
      amountTo(begin, end, run, workOut(run, read), holdS, first)
      streamsOf(amounts, kind, frame, streams)
      for (let k = 0; k < ACCOUNT_KEYS.length; k++) energiesJ[at + k] += streams[ACCOUNT_KEYS[k]]
    },
    // What `streamsOf` makes of a second of every sample, written out: it is done for each of millions.
    fill: (run, read, into) => {
      const { kind, begin, end, frame } = run
      const { pump, system, tank, load, isOverdetermined } = workOut(run, read)
      const { electricIn, motorLoss, pumpLoss, overRelief, unloading } = into
      const { intoSystem, metering, work, unaccounted } = into
      const isStopped = kind === 'stopped'
      const isStarting = kind === 'starting'
      const unloaded = kind === 'idle-unloaded'
      const beside = isStopped || isStarting ? null : frame.beside
      const [ownCircuitW, unloadedW] = beside ? [beside.ownCircuitW, beside.unloadedW] : [0, 0]
      for (let i = begin; i < end; i++) {
        const input = electricW[i]
        const shaft = shaftW[i]
        const shortW = isStarting ? Math.min(0, input - shaft) : 0
        const pressurePa = pressure[i]
        const isTold = !(isStopped || Number.isNaN(pressurePa) || Number.isNaN(pump[i]))
        const toTank = isTold ? pressurePa * tank[i] : 0
        const intoLine = isTold ? pressurePa * system[i] : 0
        const intoLoad = isTold ? load[i] * system[i] : 0
        const untoldShaft = isTold ? 0 : shaft
        const residual = isTold && isOverdetermined ? pressurePa * (pump[i] - system[i] - tank[i]) : 0
        const contradicted = residual + (isTold ? frame.contradictedW : 0)
        const toRelief = unloaded ? 0 : toTank
        const toUnloading = (unloaded ? toTank : 0) + (isTold ? unloadedW : 0)
        const ownCircuit = isTold ? ownCircuitW : 0
        const toSystem = intoLine + ownCircuit
        electricIn[i] = input
        motorLoss[i] = isStopped ? 0 : input - shaft - shortW
        overRelief[i] = toRelief
        unloading[i] = toUnloading
        intoSystem[i] = toSystem
        metering[i] = intoLine - intoLoad + ownCircuit
        work[i] = intoLoad
        unaccounted[i] = isStopped ? input : contradicted + untoldShaft + shortW
        pumpLoss[i] = isStopped ? 0 : shaft - untoldShaft - toRelief - toUnloading - toSystem - contradicted
      }
    },
  }
}
