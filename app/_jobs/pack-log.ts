import type { StoredChannel } from '@/db/schema/logs'
import type { Account } from '@/lib/ledger/account'
import { accountArrays } from '@/lib/ledger/account-series'
import { CHUNK_SAMPLES } from '@/lib/samples/codec'
import type { Trace } from '@/lib/samples/trace'
import { ACCOUNT_SERIES, channelNames, streamChannel, TIME_CHANNEL } from './channel-names'
import { channelPacker, packChannel } from './pack-channel'
import { rowBuffer } from './row-buffer'
import type { OnRows } from './task'

/** Steps of the account as drawn: far below what any sensor can tell, and it packs ten times smaller. */
const STEPS_A_WATT = 10

/** Packs time and logged channels; they come back to the last bit. */
export async function packTrace(trace: Trace, onRows: OnRows): Promise<StoredChannel[]> {
  const buffer = rowBuffer(onRows)
  await packChannel(buffer, TIME_CHANNEL, '1', trace.timeS, trace.timeS)
  const names = channelNames(trace.channels)
  const channels: StoredChannel[] = []
  for (const [index, { values, ...channel }] of trace.channels.entries()) {
    await packChannel(buffer, names[index], channel.unit, values, trace.timeS)
    channels.push({ name: names[index], ...channel })
  }
  await buffer.flush()
  return channels
}

/** Without + 0 a trifle below nil would be -0, which no whole number is. */
function roundToSteps(watts: Float64Array): void {
  for (let i = 0; i < watts.length; i++) watts[i] = Math.round(watts[i] * STEPS_A_WATT) / STEPS_A_WATT + 0
}

/** Packs the account sample by sample, for drawing: sums are taken from the analysis, never from these. */
export async function packAccount(account: Account, timeS: Float64Array, onRows: OnRows): Promise<void> {
  const buffer = rowBuffer(onRows)
  const chunk = accountArrays(CHUNK_SAMPLES)
  const packers = ACCOUNT_SERIES.map((name) => ({
    values: chunk[name],
    packer: channelPacker(buffer, streamChannel(name), 'W', timeS),
  }))
  for (let from = 0; from < timeS.length; from += CHUNK_SAMPLES) {
    const to = Math.min(from + CHUNK_SAMPLES, timeS.length)
    account.fill(from, to, chunk)
    for (const { values, packer } of packers) {
      const part = values.subarray(0, to - from)
      roundToSteps(part)
      await packer.add(part)
    }
  }
  for (const { packer } of packers) await packer.finish()
  await buffer.flush()
}
