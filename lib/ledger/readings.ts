import type { StretchMeans } from '@/lib/phases/stretch'
import type { Readings } from './operating-point'
import { at, type ParameterValues } from './parameters'

const PUMP_PRESSURE = at('pumpPressureOffset')
const LOAD_PRESSURE = at('loadPressureOffset')
const PUMP_FLOW = at('pumpFlowOffset')
const SYSTEM_FLOW = at('systemFlowOffset')
const RETURN_FLOW = at('returnFlowOffset')
const CASE_DRAIN = at('caseDrainOffset')
const CURRENT = at('currentOffset')
const POWER = at('powerOffset')
const SPEED = at('speedOffset')

/** What each sensor is off by. */
export const offsetsOf = (values: ParameterValues): Readings => ({
  pumpPressurePa: values[PUMP_PRESSURE],
  loadPressurePa: values[LOAD_PRESSURE],
  pumpFlowM3S: values[PUMP_FLOW],
  systemFlowM3S: values[SYSTEM_FLOW],
  returnFlowM3S: values[RETURN_FLOW],
  caseDrainM3S: values[CASE_DRAIN],
  currentA: values[CURRENT],
  powerW: values[POWER],
  voltageV: 0,
  speedRadS: values[SPEED],
})

/** Mean readings with the sensors' offsets taken out. */
export function corrected(means: StretchMeans, values: ParameterValues): Readings {
  const offsets = offsetsOf(values)
  return {
    pumpPressurePa: means.pumpPressurePa - offsets.pumpPressurePa,
    loadPressurePa: means.loadPressurePa - offsets.loadPressurePa,
    pumpFlowM3S: means.pumpFlowM3S - offsets.pumpFlowM3S,
    systemFlowM3S: means.systemFlowM3S - offsets.systemFlowM3S,
    returnFlowM3S: means.returnFlowM3S - offsets.returnFlowM3S,
    caseDrainM3S: means.caseDrainM3S - offsets.caseDrainM3S,
    currentA: means.currentA - offsets.currentA,
    powerW: means.powerW - offsets.powerW,
    voltageV: means.voltageV - offsets.voltageV,
    speedRadS: means.speedRadS - offsets.speedRadS,
  }
}
