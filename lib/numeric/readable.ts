/** Digits kept where SI values go back to the unit they were logged in; the rest is noise of the conversion. */
const DIGITS = 12
/** Well below half a unit of the last digit of any number. */
const CLOSE_SHARE = 0.4e-12
const LARGEST_WHOLE = 1e12
const POWERS = [1, 10, 100, 1000, 10_000]
/** Powers of ten up to here are exact. */
const MOST_EXACT = 22

/**
 * The number of twelve significant digits that is nearest to a value. Readings have few decimals, and then it takes a
 * multiplication and a division instead of text.
 */
export function readable(value: number): number {
  if (value === 0) return 0
  const close = Math.abs(value) * CLOSE_SHARE
  for (const power of POWERS) {
    const whole = Math.round(value * power)
    if (Math.abs(whole) >= LARGEST_WHOLE) break
    const near = whole / power
    if (Math.abs(near - value) < close) return near
  }
  return Number(value.toPrecision(DIGITS))
}

/** A value to about so many significant digits, quickly: one unit of the last may be off where it lies between two. */
export function toDigits(value: number, digits: number): number {
  if (value === 0 || !Number.isFinite(value)) return value
  const places = digits - 1 - Math.floor(Math.log10(Math.abs(value)))
  if (places < 0 || places > MOST_EXACT) return Number(value.toPrecision(digits))
  const power = 10 ** places
  return Math.round(value * power) / power
}
