import type { Option } from '../option'
import { planUnloading } from './unload-while-idle'

/** A directional valve whose centre position passes the pump to tank while no actuator moves. */
export const openCentreUnloading: Option = {
  id: 'open-centre-unloading',
  plan: (context, given) => planUnloading(context, 'unloadBar', given),
}
