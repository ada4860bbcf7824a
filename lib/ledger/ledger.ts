import type { Matrix } from 'ml-matrix'
import type { Correction } from '@/lib/contract/corrections'
import type { Machine } from '@/lib/contract/machine'
import { type MachineModel, machineModel } from '@/lib/machine/machine-model'
import type { ReliefCurve } from '@/lib/machine/relief'
import { type Segmentation, segment } from '@/lib/phases/segment'
import { fittedMeans, type Step } from '@/lib/phases/stretch'
import { stepOf } from '@/lib/phases/stretch-columns'
import { readSensors, type Sensors } from '@/lib/samples/sensors'
import type { Trace } from '@/lib/samples/trace'
import { PA_PER_BAR } from '@/lib/units'
import { type Account, accountOf } from './account'
import { ACCOUNT_KEYS } from './account-series'
import { type AlikeSteps, alikeSteps } from './alike-steps'
import { type AuxiliaryLoad, withoutAuxiliaries } from './auxiliaries'
import { auxiliaryCovariance } from './auxiliary-covariance'
import { withLowestCurrent } from './default-no-load'
import { doubtsOf } from './doubts'
import { edgeCovariance } from './edges'
import { at, modelWith, type ParameterValues, priorSd } from './parameters'
import { COVERAGE, type Sensitivity, sensitivity } from './propagate'
import { type DoubtedStep, doubtedSteps, pumpCovariance, settledSteps } from './pump-doubt'
import { reconcile } from './reconcile'
import { fitRelief, type ReliefLine } from './relief-fit'
import { type TankLine, tankLine } from './tank-line'
import { toAndFroDoubt } from './to-and-fro'
import { totalsOfAlike, totalsOfSteps } from './totals'
import { type StepsWithInput, stepsWithInput, unreadDoubts } from './unread-input'

/** Models with a log's evidence put in. */
export interface Fit {
  readonly model: MachineModel
  readonly curve: ReliefCurve
  readonly values: ParameterValues
}

/** Everything known of one recording: phases, models fitted to it, the account and how sure it is. */
export interface Ledger extends Fit {
  /** The machine as its file describes it, and with what the log says of its no-load current. */
  readonly plate: Machine
  readonly machine: Machine
  readonly trace: Trace
  /** Power and current are the motors' alone: declared auxiliaries are taken off. */
  readonly sensors: Sensors
  readonly auxiliaryLoad: AuxiliaryLoad | null
  /** The steps of the phases, each with its input: read, or that of steps alike. */
  readonly withInput: StepsWithInput
  readonly segmentation: Segmentation
  /** Steps of which no reading tells whether pumps that unload by the line's pressure fed it. */
  readonly doubtedPumps: readonly DoubtedStep[]
  /** Its steps with like readings put together. */
  readonly alike: readonly AlikeSteps[]
  readonly reliefLine: ReliefLine | null
  /** The relief's line against what stands across the valve, where the tank line is measured; else the one above. */
  readonly ownReliefLine: ReliefLine | null
  readonly tankLine: TankLine | null
  readonly covariance: Matrix
  /** The models as they would be with other kinds of steps. */
  fitTo(others: readonly Step[]): Fit
  /** How well the current is known as a witness of power, 95 %, A. */
  readonly currentLimitA: number
  readonly account: Account
  /** Energies in J, laid out as in totals.ts. */
  readonly totals: Float64Array
  readonly sensitivity: Sensitivity
}

/** Electric energy of a step, J. */
export const electricOfStepJ = ({ account }: Pick<Ledger, 'account'>, step: number) =>
  account.energiesJ[step * ACCOUNT_KEYS.length]

const EVEN = { below: 1, above: 1 }

/**
 * The relief's curve moved by the deviations among the parameters. It was fitted to readings with `fitted`
 * offsets taken out: with another offset of the same sensor it lies elsewhere by the difference.
 */
export function curveWith(curve: ReliefCurve, values: ParameterValues, fitted: ParameterValues): ReliefCurve {
  const shiftPa = fitted[at('pumpPressureOffset')] - values[at('pumpPressureOffset')]
  const settingPa = curve.settingPa + shiftPa + values[at('reliefSetting')]
  const wider = values[at('reliefSpan')]
  const { below, above } = curve.spanSkew ?? EVEN
  const spanPa = curve.settingPa - curve.crackingPa + wider * (wider < 0 ? below : above)
  const moreLeak = values[at('reliefLeak')] - fitted[at('reliefLeak')]
  return {
    ...curve,
    settingPa,
    crackingPa: settingPa - Math.max(spanPa, 0.002 * settingPa),
    leakPerPa: Math.max(0, curve.leakPerPa + (moreLeak * curve.ratedFlowM3S) / curve.settingPa),
  }
}

function withRelief(covariance: Matrix, line: ReliefLine | null, prior: Float64Array): Matrix {
  const out = covariance.clone()
  const names = [at('reliefSetting'), at('reliefSpan')]
  const block = line?.covariance ?? [prior[names[0]] ** 2, 0, 0, prior[names[1]] ** 2]
  names.forEach((k, a) => {
    names.forEach((l, b) => {
      out.set(k, l, block[2 * a + b])
    })
  })
  return out
}

/** The same kinds of steps, each with its input. */
function withInputs(segmentation: Segmentation, { steps }: StepsWithInput): Segmentation {
  if (steps.every((step, k) => step === segmentation.steps[k])) return segmentation
  const told = (others: readonly Step[]) => others.map((step, k) => stepOf(step, step.kind, steps[k].means))
  return {
    ...segmentation,
    steps,
    stepsWithLongestHold: (longestHoldS) => told(segmentation.stepsWithLongestHold(longestHoldS)),
    otherReadings: () =>
      segmentation.otherReadings().map(({ doubt, steps: others }) => ({ doubt, steps: told(others) })),
  }
}

/** No relief of a sound machine lets the pressure rise this far over its setting (common practice, no source). */
const HIGHEST_PRESSURE_SHARE = 2.5

/** A pressure reading above it is a spike of the sensor, Pa. */
export const highestPressurePa = (machine: Machine) =>
  HIGHEST_PRESSURE_SHARE * machine.relief.settingBar * PA_PER_BAR

/** How well the current is known as a witness of power, 95 %, A: the clamp's offset and the no-load current's. */
function limitOfCurrentA(sensors: Sensors, model: MachineModel, covariance: Matrix): number {
  if (!sensors.current) return 0
  const noLoadSd = Math.sqrt(covariance.get(at('noLoadCurrent'), at('noLoadCurrent')))
  return Math.hypot(sensors.current.limit, COVERAGE * noLoadSd * model.motor.noLoadCurrentA)
}

/**
 * Accounts for every watt of a recording: sensors, phases, reconciliation, relief, account, intervals.
 * @throws TankwardError `needs-pump-pressure`, `correction-outside`, `correction-without-samples`
 */
export function accountFor(trace: Trace, plate: Machine, corrections: readonly Correction[] = []): Ledger {
  const { sensors: read, load: auxiliaryLoad } = withoutAuxiliaries(
    readSensors(trace, highestPressurePa(plate), plate.motor.ratedVoltageV),
    plate,
    machineModel(plate).motor,
    trace.holdS,
  )
  const machine = withLowestCurrent(plate, read, trace)
  const segmentation = segment(read, trace, machineModel(machine), corrections)
  const { steps, sensors } = segmentation
  const doubtedPumps = doubtedSteps(steps, sensors, machineModel(machine))
  const settled = settledSteps(steps, doubtedPumps)
  const prior = priorSd(sensors, plate)
  const reconciled = reconcile(settled, sensors, machine, prior)
  const { values } = reconciled
  const model = modelWith(machine, values)
  const seenOpen = { steps: settled, waitsAreTimed: segmentation.waitsAreTimed }
  const reliefLine = fitRelief(seenOpen, sensors, machine, reconciled)
  const tank = tankLine(steps, sensors.tankPressure, trace.holdS)
  const curve = reliefLine?.curve ?? model.relief
  const covariance = withRelief(reconciled.covariance, reliefLine, prior)
  const currentLimitA = limitOfCurrentA(sensors, model, covariance)
  const withInput = stepsWithInput(steps, sensors, model, trace.holdS)
  const account = accountOf(withInput.steps, sensors, model, curve, values, currentLimitA, trace.holdS)
  const { energiesJ } = account
  const alike = alikeSteps(withInput.steps, fittedMeans(sensors), model)
  const fitTo = (others: readonly Step[]): Fit => {
    const fitted = reconcile(others, sensors, machine, prior).values
    return { values: fitted, model: modelWith(machine, fitted), curve: curveWith(curve, fitted, values) }
  }
  const changeByFit = (others: readonly Step[]) => {
    const fit = fitTo(others)
    const groups = alikeSteps(
      stepsWithInput(others, sensors, fit.model, trace.holdS).steps,
      fittedMeans(sensors),
      fit.model,
    )
    const taken = totalsOfAlike(alike, model, curve, values, currentLimitA)
    return totalsOfAlike(groups, fit.model, fit.curve, fit.values, currentLimitA).map(
      (valueJ, k) => valueJ - taken[k],
    )
  }
  const byAuxiliaries = auxiliaryCovariance(alike, auxiliaryLoad, model, (groups) =>
    totalsOfAlike(groups, model, curve, values, currentLimitA),
  )
  const byPumps = pumpCovariance(doubtedPumps, model, (some) =>
    totalsOfAlike(alikeSteps(some, fittedMeans(sensors), model), model, curve, values, currentLimitA),
  )
  return {
    plate,
    machine,
    trace,
    sensors,
    auxiliaryLoad,
    withInput,
    segmentation: withInputs(segmentation, withInput),
    doubtedPumps,
    alike,
    model,
    curve,
    reliefLine,
    ownReliefLine: tank ? fitRelief(seenOpen, sensors, machine, reconciled, tank) : reliefLine,
    tankLine: tank,
    values,
    covariance,
    fitTo,
    currentLimitA,
    account,
    totals: totalsOfSteps(steps, energiesJ, model),
    sensitivity: sensitivity(
      (moved) =>
        totalsOfAlike(
          alike,
          modelWith(machine, moved),
          curveWith(curve, moved, values),
          moved,
          currentLimitA,
        ),
      values,
      covariance,
      [
        { source: 'edges', covariance: edgeCovariance(steps, energiesJ, trace.sampleIntervalS, sensors) },
        ...(byAuxiliaries ? [{ source: 'auxiliaries' as const, covariance: byAuxiliaries }] : []),
        ...(byPumps ? [{ source: 'pump-states' as const, covariance: byPumps }] : []),
      ],
      [
        ...doubtsOf(segmentation, energiesJ, model, curve, changeByFit),
        ...toAndFroDoubt(doubtedPumps, model),
        ...unreadDoubts(withInput, energiesJ),
      ],
    ),
  }
}
