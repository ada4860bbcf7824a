import type { Machine } from '@/lib/contract/machine'
import { type MachineModel, machineModel } from '@/lib/machine/machine-model'
import { DEFAULT_NO_LOAD_LOSS_SHARE } from '@/lib/machine/motor'
import { NO_LOAD_SHARE_LIMIT } from '@/lib/machine/no-load-current'
import type { Sensors } from '@/lib/samples/sensors'

/**
 * What is uncertain about a recording: one constant offset a sensor (SI units), and how motor and pump
 * deviate from their nameplates (relative). Every parameter is nil where nothing is known.
 */
export const PARAMETERS = [
  'pumpPressureOffset',
  'loadPressureOffset',
  'pumpFlowOffset',
  'systemFlowOffset',
  'returnFlowOffset',
  'currentOffset',
  'powerOffset',
  'displacement',
  'leakage',
  'lossTorque',
  'constantShare',
  'noLoadLossShare',
  'noLoadCurrent',
  'form',
  'voltage',
  'ratedLoss',
  'reliefSetting',
  'reliefSpan',
] as const
export type Parameter = (typeof PARAMETERS)[number]
export type ParameterValues = Float64Array

export const at = (name: Parameter) => PARAMETERS.indexOf(name)

/** 95 % limits become standard deviations of a normal distribution. */
export const LIMIT_TO_SD = 1 / 1.96

/**
 * Standard deviations before the log is looked at. Sensor limits from the contract; no-load loss share
 * and no-load current from the domain rules; the others common practice, no source.
 */
export function priorSd(sensors: Sensors, machine: Machine): Float64Array {
  const limit = (sensor: { limit: number } | null) => (sensor ? sensor.limit * LIMIT_TO_SD : 0)
  const settingPa = machineModel(machine).relief.settingPa
  const noLoadShare = machineModel(machine).motor.noLoadCurrentA / machine.motor.ratedCurrentA
  const values: Record<Parameter, number> = {
    pumpPressureOffset: limit(sensors.pumpPressure),
    loadPressureOffset: limit(sensors.loadPressure),
    pumpFlowOffset: limit(sensors.pumpFlow),
    systemFlowOffset: limit(sensors.systemFlow),
    returnFlowOffset: limit(sensors.returnFlow),
    currentOffset: limit(sensors.current),
    powerOffset: limit(sensors.power),
    displacement: 0.012,
    leakage: 0.5,
    lossTorque: 0.2,
    constantShare: 0.1,
    noLoadLossShare: 0.2 * LIMIT_TO_SD,
    noLoadCurrent: machine.motor.noLoadCurrentA ? 0.012 : (NO_LOAD_SHARE_LIMIT * LIMIT_TO_SD) / noLoadShare,
    form: 0.01,
    voltage: 0.008,
    ratedLoss: 0.04,
    reliefSetting: 0.05 * settingPa,
    reliefSpan: 0.03 * settingPa,
  }
  return Float64Array.from(PARAMETERS, (name) => values[name])
}

/** The machine's model with parameter values put in. */
export function modelWith(machine: Machine, values: ParameterValues): MachineModel {
  const lossScale = 1 + values[at('ratedLoss')]
  const plate = machine.motor
  const ratedEfficiency = 1 / (1 + (1 / plate.ratedEfficiency - 1) * lossScale)
  return machineModel(
    { ...machine, motor: { ...plate, ratedEfficiency: Math.min(1, ratedEfficiency) } },
    {
      motor: {
        noLoadLossShare: Math.max(values[at('noLoadLossShare')], 0.05 - DEFAULT_NO_LOAD_LOSS_SHARE),
        noLoadCurrent: values[at('noLoadCurrent')],
        form: values[at('form')],
        voltage: values[at('voltage')],
      },
      pump: {
        displacement: values[at('displacement')],
        leakage: values[at('leakage')],
        lossTorque: Math.max(values[at('lossTorque')], -0.95),
        constantShare: values[at('constantShare')],
      },
    },
  )
}
