import { accumulatorCharging } from './catalogue/accumulator-charging'
import { efficientMotor } from './catalogue/efficient-motor'
import { highLowPumps } from './catalogue/high-low-pumps'
import { loadSensingPump } from './catalogue/load-sensing-pump'
import { lowerReliefSetting } from './catalogue/lower-relief-setting'
import { openCentreUnloading } from './catalogue/open-centre-unloading'
import { pressureCompensatedPump } from './catalogue/pressure-compensated-pump'
import { replaceReliefValve } from './catalogue/replace-relief-valve'
import { restorePump } from './catalogue/restore-pump'
import { secondReliefSetting } from './catalogue/second-relief-setting'
import { smallerPump } from './catalogue/smaller-pump'
import { stopMotorAtIdle } from './catalogue/stop-motor-at-idle'
import { variableSpeedDrive } from './catalogue/variable-speed-drive'
import { ventReliefAtIdle } from './catalogue/vent-relief-at-idle'
import type { Option } from './option'

/** Every option that is judged, in the order in which combined changes are applied to a supply. */
export const CATALOGUE: readonly Option[] = [
  restorePump,
  replaceReliefValve,
  smallerPump,
  lowerReliefSetting,
  secondReliefSetting,
  ventReliefAtIdle,
  openCentreUnloading,
  highLowPumps,
  pressureCompensatedPump,
  loadSensingPump,
  variableSpeedDrive,
  accumulatorCharging,
  stopMotorAtIdle,
  efficientMotor,
]
