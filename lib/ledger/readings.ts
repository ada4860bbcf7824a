import type { StretchMeans } from '@/lib/phases/stretch'
import type { Readings } from './operating-point'
import { at, type ParameterValues } from './parameters'

/** Mean readings with the sensors' offsets taken out. */
export function corrected(means: StretchMeans, values: ParameterValues): Readings {
  return {
    pumpPressurePa: means.pumpPressurePa - values[at('pumpPressureOffset')],
    loadPressurePa: means.loadPressurePa - values[at('loadPressureOffset')],
    pumpFlowM3S: means.pumpFlowM3S - values[at('pumpFlowOffset')],
    systemFlowM3S: means.systemFlowM3S - values[at('systemFlowOffset')],
    returnFlowM3S: means.returnFlowM3S - values[at('returnFlowOffset')],
    caseDrainM3S: means.caseDrainM3S - values[at('caseDrainOffset')],
    currentA: means.currentA - values[at('currentOffset')],
    powerW: means.powerW - values[at('powerOffset')],
    voltageV: means.voltageV,
    speedRadS: means.speedRadS - values[at('speedOffset')],
  }
}
