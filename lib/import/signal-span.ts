import type { ChannelDeclaration } from '@/lib/contract/machine'

type Scale = NonNullable<ChannelDeclaration['scale']>

/** Readings that no sound transmitter sends, and the raw readings between which it does. */
export interface OutOfSpan {
  readonly lowest: number
  readonly highest: number
  readonly below: number
  readonly above: number
  readonly firstRow: number
  /** The first of them. */
  readonly reading: number
}

/** Lower ends of live-zero signals, 4–20 mA, 1–5 V and 2–10 V; the upper end is five times as much. */
const LIVE_ZEROS = [1, 2, 4]
/** The same in A and kV, in mA and V, in µA and mV. */
const PREFIXES = [1e-3, 1, 1e3]
const SPAN_RATIO = 5
/** Ends that were measured and not read off a plate lie within this share of the signal's. */
const NEAR_SHARE = 0.03
/**
 * A sound transmitter saturates inside these shares of its span; beyond, it reports its own failure, or the wire is
 * broken: 3.6 and 21 mA of 4–20 mA (as in the recommendation NAMUR NE 43, from memory). Voltage
 * signals have no such recommendation and take the same shares (common practice, no source).
 */
const BELOW_SHARE = 0.025
const ABOVE_SHARE = 0.0625

const near = (value: number, wanted: number) => Math.abs(value - wanted) <= NEAR_SHARE * wanted

/** Whether a scale begins at a signal's live zero: then nil of the signal means no signal, not nil of the quantity. */
function hasLiveZero({ from, to }: Scale): boolean {
  const low = Math.min(...from)
  const high = Math.max(...from)
  if (!PREFIXES.some((prefix) => LIVE_ZEROS.some((zero) => near(low, zero * prefix)))) return false
  if (!near(high, SPAN_RATIO * low)) return false
  // A plain change of unit meets such numbers by chance: its line runs through nil.
  return Math.abs(to[0] * from[1] - to[1] * from[0]) > 1e-9 * Math.abs(to[1] * from[1])
}

/**
 * Turns raw readings well outside the span of a live-zero signal into missing values, in place: a broken wire is no
 * pressure below nil. A signal that begins at nil (0–20 mA, 0–10 V) cannot tell the two apart and keeps all it reads.
 * @param values raw readings, before `scale`
 * @returns null where the signal has no live zero, or nothing lies outside
 */
export function dropOutOfSpan(values: Float64Array, scale: Scale): OutOfSpan | null {
  if (!hasLiveZero(scale)) return null
  const low = Math.min(...scale.from)
  const high = Math.max(...scale.from)
  const lowest = low - BELOW_SHARE * (high - low)
  const highest = high + ABOVE_SHARE * (high - low)
  let below = 0
  let above = 0
  let firstRow = -1
  let reading = Number.NaN
  for (let i = 0; i < values.length; i++) {
    if (!(values[i] < lowest || values[i] > highest)) continue
    if (firstRow < 0) {
      firstRow = i
      reading = values[i]
    }
    if (values[i] < lowest) below++
    else above++
    values[i] = Number.NaN
  }
  return firstRow < 0 ? null : { lowest, highest, below, above, firstRow, reading }
}
