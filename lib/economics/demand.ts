import type { Site } from '@/lib/contract/site'
import { W_PER_KW } from '@/lib/units'

const MS_PER_S = 1000
/** Electric input over time. */
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

/** A window counts where samples cover nearly all of it; a mean over half a window is no mean. */
const LEAST_COVER = 0.99

/**
 * Highest mean power over windows of the given length, in W, as a demand meter forms it: windows follow
 * one another and begin at whole multiples of their length (UTC; the same as local time wherever the
 * zone is a multiple of the window off). Null where no window is covered.
 * @param windowS length of a window in seconds
 */
export function highestWindowMeanW(record: PowerRecord, windowS: number): number | null {
  const { timeS, holdS, powerW, startedAtMs } = record
  const offsetS = startedAtMs === null ? 0 : (startedAtMs / MS_PER_S) % windowS
  let highest: number | null = null
  let windowEndS = windowS
  let energyJ = 0
  let coveredS = 0
  const close = () => {
    if (coveredS >= LEAST_COVER * windowS) highest = Math.max(highest ?? 0, energyJ / coveredS)
    energyJ = 0
    coveredS = 0
  }
  for (let i = 0; i < timeS.length; i += 1) {
    let fromS = timeS[i] + offsetS
    const endS = fromS + holdS[i]
    while (fromS < endS) {
      if (fromS >= windowEndS) {
        close()
        windowEndS = (Math.floor(fromS / windowS) + 1) * windowS
      }
      const toS = Math.min(endS, windowEndS)
      energyJ += powerW[i] * (toS - fromS)
      coveredS += toS - fromS
      fromS = toS
    }
  }
  close()
  return highest
}

/**
 * Demand charge of a month in the site's currency: peak × price × how far the machine's peak falls
 * together with the site's. Null where the tariff has none or the peak is unknown.
 */
export function demandCostPerMonth(peakW: number | null, site: Site): number | null {
  const demand = site.tariff?.demand
  if (!demand || peakW === null) return null
  return (peakW / W_PER_KW) * demand.pricePerKWMonth * demand.coincidenceShare
}
