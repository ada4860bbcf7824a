import { lowerReliefSetting } from './catalogue/lower-relief-setting'
import { openCentreUnloading } from './catalogue/open-centre-unloading'
import { pressureCompensatedPump } from './catalogue/pressure-compensated-pump'
import { secondReliefSetting } from './catalogue/second-relief-setting'
import { stopMotorAtIdle } from './catalogue/stop-motor-at-idle'
import { ventReliefAtIdle } from './catalogue/vent-relief-at-idle'
import type { Option } from './option'

/** Every option that is judged, in the order in which combined changes are applied to a supply. */
export const CATALOGUE: readonly Option[] = [
  lowerReliefSetting,
  secondReliefSetting,
  ventReliefAtIdle,
  openCentreUnloading,
  pressureCompensatedPump,
  stopMotorAtIdle,
]
