import type { StoredChannel } from '@/db/schema/logs'
import type { AccountSeries } from '@/lib/ledger/account'
import type { Trace } from '@/lib/samples/trace'
import { ACCOUNT_SERIES, channelNames, streamChannel, TIME_CHANNEL } from './channel-names'
import { type PackedChannels, packChannel } from './pack-channel'

/** Steps of the account as drawn: far below what any sensor can tell, and it packs ten times smaller. */
const STEPS_A_WATT = 10

const steps = (values: Float64Array) => values.map((watts) => Math.round(watts * STEPS_A_WATT) / STEPS_A_WATT)

/** Time and logged channels as rows to store; they come back to the last bit. */
export function packTrace(trace: Trace): PackedChannels & { readonly channels: StoredChannel[] } {
  const packed: PackedChannels = { samples: [], envelope: [] }
  packChannel(packed, TIME_CHANNEL, '1', trace.timeS, trace.timeS)
  const names = channelNames(trace.channels)
  const channels = trace.channels.map(({ values, ...channel }, index) => {
    packChannel(packed, names[index], channel.unit, values, trace.timeS)
    return { name: names[index], ...channel }
  })
  return { ...packed, channels }
}

/** The account's series as rows to store, for drawing: sums are taken from the analysis, never from these. */
export function packSeries(series: AccountSeries, timeS: Float64Array): PackedChannels {
  const packed: PackedChannels = { samples: [], envelope: [] }
  for (const name of ACCOUNT_SERIES) packChannel(packed, streamChannel(name), 'W', steps(series[name]), timeS)
  return packed
}
