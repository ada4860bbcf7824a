/** Envelopes from the samples API and what the charts ask of them. No drawing here. */
export interface TraceChannel {
  /** Key of the channel in the log; streams of the account are `stream:<name>`. */
  readonly name: string
  readonly label: string
  readonly unit: string
}

/** One channel over time: mean of each bucket with its extremes; null where there is no sample. */
export interface Envelope {
  readonly timeS: readonly number[]
  readonly min: readonly (number | null)[]
  readonly max: readonly (number | null)[]
  readonly mean: readonly (number | null)[]
}

export interface EnvelopeWindow {
  readonly from: number
  readonly to: number
  readonly points: number
}

/** Puts detail in place of the coarse points of the window it covers. */
export function mergeEnvelopes(
  whole: ReadonlyMap<string, Envelope>,
  detail: ReadonlyMap<string, Envelope>,
  window: { readonly from: number; readonly to: number },
): ReadonlyMap<string, Envelope> {
  return new Map(
    [...whole].map(([name, coarse]) => {
      const fine = detail.get(name)
      if (!fine) return [name, coarse]
      const before = coarse.timeS.findIndex((time) => time >= window.from)
      const end = before < 0 ? coarse.timeS.length : before
      const after = coarse.timeS.findIndex((time) => time > window.to)
      const start = after < 0 ? coarse.timeS.length : after
      const join = <T>(a: readonly T[], b: readonly T[]) => [...a.slice(0, end), ...b, ...a.slice(start)]
      return [
        name,
        {
          timeS: join(coarse.timeS, fine.timeS),
          min: join(coarse.min, fine.min),
          max: join(coarse.max, fine.max),
          mean: join(coarse.mean, fine.mean),
        },
      ]
    }),
  )
}

/** Extremes and the mean of buckets within a window, null where it holds no sample. */
export function summarise(envelope: Envelope, from: number, to: number) {
  let min = Number.POSITIVE_INFINITY
  let max = Number.NEGATIVE_INFINITY
  let sum = 0
  let held = 0
  envelope.timeS.forEach((time, index) => {
    const mean = envelope.mean[index]
    if (time < from || time > to || mean === null) return
    min = Math.min(min, envelope.min[index] ?? mean)
    max = Math.max(max, envelope.max[index] ?? mean)
    sum += mean
    held += 1
  })
  return held ? { min, max, mean: sum / held } : null
}
