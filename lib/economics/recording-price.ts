import type { Site } from '@/lib/contract/site'
import { priceStretches, weekMeanPrice } from './tariff'

const MS_PER_S = 1000

export interface PowerRecord {
  /** Elapsed seconds from the first sample, strictly rising. */
  readonly timeS: ArrayLike<number>
  /** How long each sample holds. */
  readonly holdS: ArrayLike<number>
  /** Electric input in W. */
  readonly powerW: ArrayLike<number>
  /** Instant of the first sample in epoch ms, or null where the recording has no date. */
  readonly startedAtMs: number | null
}

/**
 * Mean price of a kWh over a recording, weighted by the electric energy drawn in each price band.
 * Without a date or without energy: the mean over a plain week.
 */
export function meanPricePerKWh(record: PowerRecord, site: Site): number {
  const { timeS, holdS, powerW, startedAtMs } = record
  const last = timeS.length - 1
  if (startedAtMs === null || last < 0) return weekMeanPrice(site)
  const endMs = startedAtMs + (timeS[last] + holdS[last]) * MS_PER_S
  const stretches = priceStretches(startedAtMs, endMs, site).map((stretch) => ({
    endS: (stretch.endMs - startedAtMs) / MS_PER_S,
    pricePerKWh: stretch.pricePerKWh,
  }))
  let energyJ = 0
  let weighted = 0
  let at = 0
  for (let i = 0; i <= last; i += 1) {
    const endS = timeS[i] + holdS[i]
    let fromS = timeS[i]
    while (at < stretches.length - 1 && stretches[at].endS <= fromS) at += 1
    for (let k = at; fromS < endS && k < stretches.length; k += 1) {
      const toS = k === stretches.length - 1 ? endS : Math.min(endS, stretches[k].endS)
      const partJ = powerW[i] * (toS - fromS)
      energyJ += partJ
      weighted += partJ * stretches[k].pricePerKWh
      fromS = toS
    }
  }
  return energyJ > 0 ? weighted / energyJ : weekMeanPrice(site)
}
