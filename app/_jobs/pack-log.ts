import type { StoredChannel } from '@/db/schema/logs'
import type { Account } from '@/lib/ledger/account'
import { accountArrays } from '@/lib/ledger/account-series'
import { CHUNK_SAMPLES } from '@/lib/samples/codec'
import type { Trace } from '@/lib/samples/trace'
import { ACCOUNT_SERIES, channelNames, streamChannel, TIME_CHANNEL } from './channel-names'
import { channelPacker, type PackedChannels, packChannel } from './pack-channel'

/** Steps of the account as drawn: far below what any sensor can tell, and it packs ten times smaller. */
const STEPS_A_WATT = 10

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

/** The account sample by sample as rows to store, for drawing: sums are taken from the analysis, never from these. */
export function packAccount(account: Account, timeS: Float64Array): PackedChannels {
  const packed: PackedChannels = { samples: [], envelope: [] }
  const chunk = accountArrays(CHUNK_SAMPLES)
  const packers = ACCOUNT_SERIES.map((name) => ({
    values: chunk[name],
    packer: channelPacker(packed, streamChannel(name), 'W', timeS),
  }))
  for (let from = 0; from < timeS.length; from += CHUNK_SAMPLES) {
    const to = Math.min(from + CHUNK_SAMPLES, timeS.length)
    account.fill(from, to, chunk)
    for (const { values, packer } of packers) {
      const part = values.subarray(0, to - from)
      // Without + 0 a trifle below nil would be -0, which no whole number is.
      for (let i = 0; i < part.length; i++) part[i] = Math.round(part[i] * STEPS_A_WATT) / STEPS_A_WATT + 0
      packer.add(part)
    }
  }
  for (const { packer } of packers) packer.finish()
  return packed
}
