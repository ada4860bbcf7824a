import type { Machine } from '@/lib/contract/machine'
import { type MachineModel, machineModel } from '@/lib/machine/machine-model'
import { motorPrior } from '@/lib/machine/motor-prior'
import type { ReliefCurve } from '@/lib/machine/relief'
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
  'caseDrainOffset',
  'currentOffset',
  'powerOffset',
  'speedOffset',
  'displacement',
  'leakage',
  'lossTorque',
  'constantShare',
  'noLoadLossShare',
  'noLoadCurrent',
  'form',
  'voltage',
  'ratedLoss',
  'reliefLeak',
  'reliefSetting',
  'reliefSpan',
] as const
export type Parameter = (typeof PARAMETERS)[number]
export type ParameterValues = Float64Array

const INDEX = Object.fromEntries(PARAMETERS.map((name, k) => [name, k])) as Record<Parameter, number>

export const at = (name: Parameter) => INDEX[name]

/**
 * Leakage of the pump over its nameplate's by the parameter, which counts standard deviations: new pumps lie
 * within about a third of the nameplate, worn ones leak up to three times as much (95 %; common practice, no
 * source). A straight line either side of nil, joined by a bend of `BEND`, so that a fit follows it.
 */
const BETTER_SHARE = 0.3
const WORSE_SHARE = 1.1
const BEND = 0.3
export const leakageShare = (deviations: number) =>
  ((BETTER_SHARE + WORSE_SHARE) / 2) * deviations +
  ((WORSE_SHARE - BETTER_SHARE) / 2) * (Math.hypot(deviations, BEND) - BEND)

/** A healthy relief's leak at its setting as a share of rated flow, 1 sd (common practice, no source). */
export const RELIEF_LEAK_SHARE = 0.01

/** 95 % limits become standard deviations of a normal distribution. */
export const LIMIT_TO_SD = 1 / 1.96

/** A meter that never saw flow does not show its full scale, nor its limit: this share of the pump's flow at least. */
const LEAST_FLOW_LIMIT_SHARE = 0.004

/**
 * Standard deviations before the log is looked at. Sensor limits from the contract; no-load loss share
 * and no-load current from the domain rules; the others common practice, no source: an overall efficiency within
 * two points moves a loss of eight by a quarter (95 %), displacements are held to two per cent.
 */
export function priorSd(sensors: Sensors, machine: Machine): Float64Array {
  const limit = (sensor: { limit: number } | null) => (sensor ? sensor.limit * LIMIT_TO_SD : 0)
  const leastFlow = LEAST_FLOW_LIMIT_SHARE * machineModel(machine).pump.ratedFlowM3S * LIMIT_TO_SD
  const flowLimit = (sensor: { limit: number } | null) => (sensor ? Math.max(limit(sensor), leastFlow) : 0)
  const settingPa = machineModel(machine).relief.settingPa
  const { voltage } = sensors
  const motor = motorPrior(machine.motor, voltage ? limit(voltage) / machine.motor.ratedVoltageV : undefined)
  const values: Record<Parameter, number> = {
    pumpPressureOffset: limit(sensors.pumpPressure),
    loadPressureOffset: limit(sensors.loadPressure),
    pumpFlowOffset: flowLimit(sensors.pumpFlow),
    systemFlowOffset: flowLimit(sensors.systemFlow),
    returnFlowOffset: flowLimit(sensors.returnFlow),
    caseDrainOffset: limit(sensors.caseDrain),
    currentOffset: limit(sensors.current),
    powerOffset: limit(sensors.power),
    speedOffset: limit(sensors.speed),
    displacement: 0.01,
    leakage: 1,
    lossTorque: 0.15,
    constantShare: 0.08,
    noLoadLossShare: motor.noLoadLossShare,
    noLoadCurrent: motor.noLoadCurrent,
    form: 0.01,
    voltage: motor.voltage,
    ratedLoss: motor.ratedLoss,
    reliefLeak: machine.pump.kind === 'fixed' ? RELIEF_LEAK_SHARE : 0,
    reliefSetting: 0.05 * settingPa,
    reliefSpan: 0.03 * settingPa,
  }
  return Float64Array.from(PARAMETERS, (name) => values[name])
}

/** The machine's model with parameter values put in. */
export function modelWith(machine: Machine, values: ParameterValues): MachineModel {
  const model = machineModel(machine, {
    motor: {
      ratedLoss: values[at('ratedLoss')],
      noLoadLossShare: values[at('noLoadLossShare')],
      noLoadCurrent: values[at('noLoadCurrent')],
      form: values[at('form')],
      voltage: values[at('voltage')],
    },
    pump: {
      displacement: values[at('displacement')],
      leakage: leakageShare(values[at('leakage')]),
      lossTorque: Math.max(values[at('lossTorque')], -0.95),
      constantShare: values[at('constantShare')],
    },
  })
  return { ...model, relief: { ...model.relief, leakPerPa: reliefLeakPerPa(model.relief, values) } }
}

/** Leak of the relief over pressure, m³/s per Pa: the parameter is its share of rated flow at the nameplate's setting. */
export function reliefLeakPerPa(
  plate: Pick<ReliefCurve, 'ratedFlowM3S' | 'settingPa'>,
  values: ParameterValues,
): number {
  return (Math.max(0, values[at('reliefLeak')]) * plate.ratedFlowM3S) / plate.settingPa
}
