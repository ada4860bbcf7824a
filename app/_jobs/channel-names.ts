import { STREAMS } from '@/lib/contract/result'
import type { Channel } from '@/lib/samples/trace'
import { storableText } from './storable'

/** Elapsed seconds of each sample. */
export const TIME_CHANNEL = 'time'

/** The account's series in the order they are stored in. */
export const ACCOUNT_SERIES = ['electricIn', ...STREAMS] as const

/** Name an account series is stored and asked for under. */
export const streamChannel = (stream: (typeof ACCOUNT_SERIES)[number]) => `stream:${stream}`

export const STREAM_CHANNELS = ACCOUNT_SERIES.map(streamChannel)

/**
 * A name for each logged channel: its column, with a number behind it where the column's name is not its own
 * (two columns of one name, or one named as this project names its own channels).
 */
export function channelNames(channels: readonly Pick<Channel, 'column'>[]): string[] {
  const taken = new Set<string>([TIME_CHANNEL, ...STREAM_CHANNELS])
  return channels.map(({ column: header }) => {
    const column = storableText(header)
    let name = column
    for (let n = 2; taken.has(name); n++) name = `${column} #${n}`
    taken.add(name)
    return name
  })
}
