import { note, type Option } from '../option'
import { planUnloading } from './unload-while-idle'

/**
 * A solenoid on the relief's vent port lets the whole flow to tank at the vent pressure while idle. Only a
 * pilot-operated valve has such a port: a direct-acting one is replaced.
 */
export const ventReliefAtIdle: Option = {
  id: 'vent-relief-at-idle',
  plan(context, given) {
    const plan = planUnloading(context, 'ventBar', given)
    if (!plan.change || context.machine.relief.kind === 'pilot-operated') return plan
    return { ...plan, cautions: [note('relief-to-be-replaced'), ...plan.cautions] }
  },
}
