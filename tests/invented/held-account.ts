import type { PhaseKind } from '@/lib/contract/result'
import type { Account } from '@/lib/ledger/account'
import { ACCOUNT_KEYS, type AccountSeries } from '@/lib/ledger/account-series'
import type { Step, StretchMeans } from '@/lib/phases/stretch'
import type { FullTrace } from '@/lib/samples/trace'

/** An account that is given sample by sample: neighbouring samples of one kind without a gap are one step. */
export function heldAccount(
  kinds: readonly PhaseKind[],
  series: AccountSeries,
  { timeS, holdS }: Pick<FullTrace, 'timeS' | 'holdS'>,
): Account {
  const steps: Step[] = []
  kinds.forEach((kind, i) => {
    const last = steps.at(-1)
    const follows = i > 0 && Math.abs(timeS[i - 1] + holdS[i - 1] - timeS[i]) < 1e-6
    if (last?.kind === kind && follows) {
      steps[steps.length - 1] = { ...last, to: i + 1, durationS: last.durationS + holdS[i] }
    } else {
      const means = {} as StretchMeans
      steps.push({ kind, from: i, to: i + 1, durationS: holdS[i], afterGap: !follows, means, peakLoadPa: 0 })
    }
  })
  const fill: Account['fill'] = (from, to, into) => {
    for (const key of ACCOUNT_KEYS) into[key].set(series[key].subarray(from, to))
  }
  const energyJ = ({ from, to }: Step, powerW: Float64Array) => {
    let sum = 0
    for (let i = from; i < to; i++) sum += powerW[i] * holdS[i]
    return sum
  }
  const energiesJ = steps.flatMap((step) => ACCOUNT_KEYS.map((key) => energyJ(step, series[key])))
  return { steps, energiesJ: Float64Array.from(energiesJ), fill }
}
