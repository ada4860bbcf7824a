import { problemOf } from '@/app/_ui/api'
import { fromSi, toSi, UNITS, type Unit } from '@/lib/units'
import type { Envelope, EnvelopeWindow, TraceChannel } from './samples'

type Column = readonly (number | null)[]

interface Answer {
  readonly buckets: { readonly startS: readonly number[]; readonly endS: readonly number[] }
  readonly channels: readonly {
    readonly name: string
    readonly unit: Unit
    readonly min: Column
    readonly max: Column
    readonly mean: Column
  }[]
}

/** Reads envelopes of a window of a log, in the units the channels are drawn in. @throws Error in words */
export async function fetchEnvelopes(
  logId: string,
  channels: readonly TraceChannel[],
  window: EnvelopeWindow,
  signal: AbortSignal,
): Promise<ReadonlyMap<string, Envelope>> {
  const query = new URLSearchParams({
    from: String(window.from),
    to: String(window.to),
    points: String(window.points),
  })
  for (const { name } of channels) query.append('channels', name)
  const response = await fetch(`/api/logs/${logId}/samples?${query}`, { signal })
  if (!response.ok) throw new Error(await problemOf(response))
  const answer = (await response.json()) as Answer
  const wanted = new Map(channels.map((channel) => [channel.name, channel.unit]))
  return new Map(
    answer.channels.map(({ name, unit, min, max, mean }) => {
      const shown = UNITS.find((known) => known === wanted.get(name)) ?? unit
      const convert = (column: Column) =>
        shown === unit
          ? column
          : column.map((value) => (value === null ? null : fromSi(toSi(value, unit), shown)))
      return [
        name,
        { timeS: answer.buckets.startS, min: convert(min), max: convert(max), mean: convert(mean) },
      ]
    }),
  )
}
