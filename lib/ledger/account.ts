import type { Stream } from '@/lib/contract/result'

/** Electric input and every stream it goes to, sample by sample, in W. */
export type AccountSeries = Readonly<Record<'electricIn' | Stream, Float64Array>>
