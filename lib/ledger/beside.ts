import type { Estimate } from '@/lib/contract/estimate'
import { besideAt } from '@/lib/machine/beside-line'
import { J_PER_KWH } from '@/lib/units'
import { reaching, scaled } from './estimates'
import type { Ledger } from './ledger'
import { modelWith } from './parameters'
import { reachOfSum, sensitivity } from './propagate'

/** No sensor sees this pump: 95 % of copies give a flow within this share of their plate's (common practice, no source). */
const COPY_SHARE = 0.05

const isRunning = ({ kind }: { readonly kind: string }) => kind !== 'stopped' && kind !== 'starting'

/**
 * Energy into circuits of their own (pilot oil, gear pumps), kWh, or null where there is none. It is a part of
 * `intoSystem` and, where that can be told from work, of metering: nobody measures what those circuits do with it.
 */
export function ownCircuitsKWh(ledger: Ledger): Estimate | null {
  const { machine, segmentation, values, covariance } = ledger
  if (!machine.furtherPumps?.some(({ outlet }) => outlet !== 'common')) return null
  const steps = segmentation.steps.filter(isRunning)
  const energyJ = (moved: typeof values) => {
    const model = modelWith(machine, moved)
    return Float64Array.of(
      steps.reduce(
        (sum, { means, durationS }) =>
          sum + (besideAt(model, means.pumpPressurePa)?.ownCircuitW ?? 0) * durationS,
        0,
      ),
    )
  }
  const reach = reachOfSum(sensitivity(energyJ, values, covariance), new Map([[0, 1]]))
  const valueJ = energyJ(values)[0]
  const copyJ = COPY_SHARE * valueJ
  const own = { below: Math.hypot(reach.below, copyJ), above: Math.hypot(reach.above, copyJ) }
  return scaled(reaching(valueJ, own, 'estimated'), 1 / J_PER_KWH)
}

/**
 * Energy of the declared auxiliaries over the logged time, kWh, or null where none is declared. With the account's
 * electric input (and the offset taken off the meter) it makes up what the meter counted.
 */
export function auxiliariesKWh({ auxiliaryLoad, segmentation, trace }: Ledger): Estimate | null {
  if (!auxiliaryLoad) return null
  const { always, whileRunning } = auxiliaryLoad
  const loggedS = trace.holdS.reduce((sum, seconds) => sum + seconds, 0)
  const runningS =
    auxiliaryLoad.runningS ??
    segmentation.steps.filter(isRunning).reduce((sum, { durationS }) => sum + durationS, 0)
  const limitJ = Math.hypot(always.limitW * loggedS, whileRunning.limitW * runningS)
  const valueJ = always.powerW * loggedS + whileRunning.powerW * runningS
  return scaled(reaching(valueJ, { below: limitJ, above: limitJ }, 'estimated'), 1 / J_PER_KWH)
}
