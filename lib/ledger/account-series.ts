import type { Stream } from '@/lib/contract/result'
import { noStreams, type Streams } from './operating-point'

/** Electric input and every stream it goes to, sample by sample, in W; metering and work NaN where not separable. */
export type AccountSeries = Readonly<Record<'electricIn' | Stream, Float64Array>>

export const ACCOUNT_KEYS = Object.keys(noStreams()) as (keyof Streams)[]

/** Arrays for `count` samples of the account. */
export const accountArrays = (count: number): AccountSeries =>
  Object.fromEntries(ACCOUNT_KEYS.map((key) => [key, new Float64Array(count)])) as Record<
    keyof Streams,
    Float64Array
  >
