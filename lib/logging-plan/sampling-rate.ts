/** Rates that loggers offer, Hz (common practice, no source). */
const RATES_HZ = [1, 2, 5, 10, 20, 50, 100] as const
/**
 * Samples in the shortest phase: each of its two edges lies between two samples, so its length is known within one
 * interval, a tenth of it.
 */
export const SAMPLES_IN_PHASE = 10

export interface SamplingRate {
  readonly shortestPhaseS: number
  readonly leastHz: number
  /** The usual rate from there on; the fastest there is where none is fast enough. */
  readonly rateHz: number
}

/** Rate at which a phase of that length is seen with ten samples. */
export function samplingRate(shortestPhaseS: number): SamplingRate {
  const leastHz = SAMPLES_IN_PHASE / shortestPhaseS
  const rateHz = RATES_HZ.find((rate) => rate >= leastHz * (1 - 1e-9)) ?? RATES_HZ[RATES_HZ.length - 1]
  return { shortestPhaseS, leastHz, rateHz }
}
