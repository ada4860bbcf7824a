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
  pumpState: 0,
})

/** Mean readings with the sensors' offsets taken out; in `into`, where it is given, for those who ask step by step. */
export function corrected(
  means: StretchMeans,
  values: ParameterValues,
  into: Readings = offsetsOf(values),
): Readings {
  into.pumpPressurePa = means.pumpPressurePa - values[PUMP_PRESSURE]
  into.loadPressurePa = means.loadPressurePa - values[LOAD_PRESSURE]
  into.pumpFlowM3S = means.pumpFlowM3S - values[PUMP_FLOW]
  into.systemFlowM3S = means.systemFlowM3S - values[SYSTEM_FLOW]
  into.returnFlowM3S = means.returnFlowM3S - values[RETURN_FLOW]
  into.caseDrainM3S = means.caseDrainM3S - values[CASE_DRAIN]
  into.currentA = means.currentA - values[CURRENT]
  into.powerW = means.powerW - values[POWER]
  into.voltageV = means.voltageV
  into.speedRadS = means.speedRadS - values[SPEED]
  into.pumpState = means.pumpState
  return into
}
