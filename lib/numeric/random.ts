/** A source of uniform numbers in [0, 1). */
export type Random = () => number

/**
 * Seeded uniform generator (mulberry32: 32-bit state, period 2^32), so that every interval can be
 * computed again to the last bit.
 */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = state
    t = Math.imul(t ^ (t >>> 15), t | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}

/** A standard normal draw (Box–Muller). */
export function normal(random: Random): number {
  const u = 1 - random()
  return Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * random())
}

/** A draw from the triangular distribution with the given low, likely and high values. */
export function triangular(random: Random, low: number, likely: number, high: number): number {
  if (high <= low) return likely
  const u = random()
  const split = (likely - low) / (high - low)
  return u < split
    ? low + Math.sqrt(u * (high - low) * (likely - low))
    : high - Math.sqrt((1 - u) * (high - low) * (high - likely))
}
