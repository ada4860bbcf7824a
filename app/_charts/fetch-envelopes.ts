import { problemOf } from '@/app/_ui/api'
import type { Envelope, EnvelopeWindow, TraceChannel } from './samples'

interface Answer {
  readonly channels: readonly (Envelope & { readonly name: string })[]
}

/** Reads envelopes of a window of a log, in the units the channels are drawn in. */
export async function fetchEnvelopes(
  logId: string,
  channels: readonly TraceChannel[],
  window: EnvelopeWindow,
  signal: AbortSignal,
): Promise<ReadonlyMap<string, Envelope>> {
  const query = new URLSearchParams({
    channels: channels.map((channel) => channel.name).join(','),
    from: String(window.from),
    to: String(window.to),
    points: String(window.points),
  })
  const response = await fetch(`/api/logs/${logId}/samples?${query}`, { signal })
  if (!response.ok) throw new Error(await problemOf(response))
  const answer = (await response.json()) as Answer
  return new Map(answer.channels.map((channel) => [channel.name, channel]))
}
