import type { Estimate } from '@/lib/contract/estimate'
import { besideAt } from '@/lib/machine/beside-line'
import { sumOf } from '@/lib/samples/samples'
import { J_PER_KWH } from '@/lib/units'
import { reaching, scaled } from './estimates'
import type { Ledger } from './ledger'
import { modelWith } from './parameters'
import { reachOfSum, type Sensitivity, sensitivity } from './propagate'

/** No sensor sees this pump: 95 % of copies give a flow within this share of their plate's (common practice, no source). */
const COPY_SHARE = 0.05

const isRunning = ({ kind }: { readonly kind: string }) => kind !== 'stopped' && kind !== 'starting'

/** Sensitivity of the energy into circuits of their own, J, and what copies may differ by; null where there are none. */
export function ownCircuits(
  ledger: Ledger,
): { readonly energyJ: number; readonly of: Sensitivity; readonly copyJ: number } | null {
  const { machine, segmentation, values, covariance } = ledger
  if (!machine.furtherPumps?.some(({ outlet }) => outlet !== 'common')) return null
  const steps = segmentation.steps.filter(isRunning)
  const sum = (moved: typeof values) => {
    const model = modelWith(machine, moved)
    return Float64Array.of(
      steps.reduce(
        (total, { means, durationS }) =>
          total + (besideAt(model, means.pumpPressurePa)?.ownCircuitW ?? 0) * durationS,
        0,
      ),
    )
  }
  const energyJ = sum(values)[0]
  return { energyJ, of: sensitivity(sum, values, covariance), copyJ: COPY_SHARE * energyJ }
}

/**
 * Energy into circuits of their own (pilot oil, gear pumps), kWh, or null where there is none. It is a part of
 * `intoSystem` and, where that can be told from work, of metering: nobody measures what those circuits do with it.
 */
export function ownCircuitsKWh(ledger: Ledger): Estimate | null {
  const own = ownCircuits(ledger)
  if (!own) return null
  const reach = reachOfSum(own.of, new Map([[0, 1]]))
  const wider = { below: Math.hypot(reach.below, own.copyJ), above: Math.hypot(reach.above, own.copyJ) }
  return scaled(reaching(own.energyJ, wider, 'estimated'), 1 / J_PER_KWH)
}

/** Declared auxiliaries of one sort: their power, its 95 % limit, and the time they ran. */
interface AuxiliariesOverTime {
  readonly powerW: number
  readonly limitW: number
  readonly ranS: number
}

/** Declared auxiliaries with the time they ran in this log; null where none is declared. */
export function auxiliariesOverTime({ auxiliaryLoad, segmentation, trace }: Ledger): {
  readonly always: AuxiliariesOverTime
  readonly whileRunning: AuxiliariesOverTime
} | null {
  if (!auxiliaryLoad) return null
  const { always, whileRunning, runningS } = auxiliaryLoad
  const loggedS = sumOf(trace.holdS)
  const ranS =
    runningS ?? segmentation.steps.filter(isRunning).reduce((sum, { durationS }) => sum + durationS, 0)
  return { always: { ...always, ranS: loggedS }, whileRunning: { ...whileRunning, ranS } }
}

/**
 * Energy of the declared auxiliaries over the logged time, kWh, or null where none is declared. With the account's
 * electric input (and the offset taken off the meter) it makes up what the meter counted.
 */
export function auxiliariesKWh(ledger: Ledger): Estimate | null {
  const sorts = auxiliariesOverTime(ledger)
  if (!sorts) return null
  const { always, whileRunning } = sorts
  const limitJ = Math.hypot(always.limitW * always.ranS, whileRunning.limitW * whileRunning.ranS)
  const valueJ = always.powerW * always.ranS + whileRunning.powerW * whileRunning.ranS
  return scaled(reaching(valueJ, { below: limitJ, above: limitJ }, 'estimated'), 1 / J_PER_KWH)
}
