import type { Matrix } from 'ml-matrix'
import type { Machine } from '@/lib/contract/machine'
import { type MachineModel, machineModel } from '@/lib/machine/machine-model'
import type { ReliefCurve } from '@/lib/machine/relief'
import { type Segmentation, segment } from '@/lib/phases/segment'
import { readSensors, type Sensors } from '@/lib/samples/sensors'
import type { Trace } from '@/lib/samples/trace'
import { type AccountSeries, accountSeries } from './account'
import { edgeCovariance } from './edges'
import { at, modelWith, type ParameterValues, priorSd } from './parameters'
import { type Sensitivity, sensitivity } from './propagate'
import { reconcile } from './reconcile'
import { fitRelief, type ReliefLine } from './relief-fit'
import { totalsOfSeries, totalsOfSteps } from './totals'

/** Everything known of one recording: phases, models fitted to it, the account and how sure it is. */
export interface Ledger {
  readonly machine: Machine
  readonly trace: Trace
  readonly sensors: Sensors
  readonly segmentation: Segmentation
  /** Motor, pump and relief with the log's own evidence put in. */
  readonly model: MachineModel
  readonly curve: ReliefCurve
  readonly reliefLine: ReliefLine | null
  readonly values: ParameterValues
  readonly covariance: Matrix
  readonly series: AccountSeries
  /** Energies in J, laid out as in totals.ts. */
  readonly totals: Float64Array
  readonly sensitivity: Sensitivity
}

/** The relief's curve moved by the deviations among the parameters. */
export function curveWith(curve: ReliefCurve, values: ParameterValues): ReliefCurve {
  const settingPa = curve.settingPa + values[at('reliefSetting')]
  const spanPa = curve.settingPa - curve.crackingPa + values[at('reliefSpan')]
  return { ...curve, settingPa, crackingPa: settingPa - Math.max(spanPa, 0.002 * settingPa) }
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

/**
 * Accounts for every watt of a recording: sensors, phases, reconciliation, relief, account, intervals.
 * @throws TankwardError `needs-pump-pressure`
 */
export function accountFor(trace: Trace, machine: Machine): Ledger {
  const sensors = readSensors(trace)
  const segmentation = segment(sensors, trace, machineModel(machine))
  const { steps } = segmentation
  const reconciled = reconcile(steps, sensors, machine)
  const { values } = reconciled
  const model = modelWith(machine, values)
  const reliefLine = fitRelief(steps, model, values)
  const curve = reliefLine?.curve ?? model.relief
  const covariance = withRelief(reconciled.covariance, reliefLine, priorSd(sensors, machine))
  const limitA = sensors.current?.limit ?? 0
  const series = accountSeries(steps, sensors, model, curve, values)
  return {
    machine,
    trace,
    sensors,
    segmentation,
    model,
    curve,
    reliefLine,
    values,
    covariance,
    series,
    totals: totalsOfSeries(steps, series, trace.holdS, model),
    sensitivity: sensitivity(
      (moved) => totalsOfSteps(steps, modelWith(machine, moved), curveWith(curve, moved), moved, limitA),
      values,
      covariance,
      edgeCovariance(steps, series, trace.sampleIntervalS),
    ),
  }
}
