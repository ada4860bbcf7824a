const HALVINGS = 200

/**
 * Probability that |t| stays below `t` (not negative), Student's t with a whole number of degrees of freedom: the finite
 * sums of Abramowitz and Stegun, 26.7.3 (odd) and 26.7.4 (even).
 */
export function studentWithin(t: number, degrees: number): number {
  const angle = Math.atan(t / Math.sqrt(degrees))
  const sine = Math.sin(angle)
  const square = Math.cos(angle) ** 2
  const isOdd = degrees % 2 === 1
  let term = isOdd ? Math.cos(angle) : 1
  let sum = isOdd && degrees === 1 ? 0 : term
  for (let k = isOdd ? 3 : 2; k <= degrees - 2; k += 2) {
    term *= ((k - 1) / k) * square
    sum += term
  }
  return isOdd ? (2 / Math.PI) * (angle + sine * sum) : sine * sum
}

/**
 * The t that |t| stays below with probability `within` (0.95: the factor of a 95 % interval of a mean). `degrees` is a
 * whole number of at least 1. By halving: to the last digits, for any degrees.
 */
export function studentFactor(within: number, degrees: number): number {
  const key = `${within} ${degrees}`
  const factor = factors.get(key) ?? factorByHalving(within, degrees)
  factors.set(key, factor)
  return factor
}

/** Found so far: intervals of hundreds of machines ask for the same few. */
const factors = new Map<string, number>()

function factorByHalving(within: number, degrees: number): number {
  let low = 0
  let high = 1
  while (studentWithin(high, degrees) < within) high *= 2
  for (let k = 0; k < HALVINGS && high - low > 1e-14 * high; k++) {
    const middle = (low + high) / 2
    if (studentWithin(middle, degrees) < within) low = middle
    else high = middle
  }
  return (low + high) / 2
}
