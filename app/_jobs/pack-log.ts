import type { StoredChannel } from '@/db/schema/logs'
import type { Account } from '@/lib/ledger/account'
import { type AccountSeries, accountArrays } from '@/lib/ledger/account-series'
import { CHUNK_SAMPLES } from '@/lib/samples/codec'
import type { Samples } from '@/lib/samples/samples'
import type { Channel, Trace } from '@/lib/samples/trace'
import { ACCOUNT_SERIES, channelNames, streamChannel, TIME_CHANNEL } from './channel-names'
import { channelPacker, packChannel } from './pack-channel'
import { rowBuffer } from './row-buffer'
import type { OnRows } from './task'

/** Decimals of a watt in the account as drawn: far below what any sensor can tell, and it packs ten times smaller. */
const WATT_DECIMALS = 1

/** What is stored of a trace beside its rows. */
export type PackedTrace = Pick<Trace, 'timeS' | 'channels'>

/** Packs an import's rows, here or elsewhere. */
export interface Packer {
  /** Time and logged channels; they come back to the last bit. */
  trace(trace: PackedTrace): Promise<void>
  /** The account sample by sample, for drawing: sums are taken from the analysis, never from these. */
  account(account: Account, timeS: Samples): Promise<void>
}

/** A trace's channels as they are named and stored. */
export function storedChannels(channels: readonly Channel[]): StoredChannel[] {
  const names = channelNames(channels)
  return channels.map(({ values: _, ...channel }, index) => ({ name: names[index], ...channel }))
}

export async function packTrace({ timeS, channels }: PackedTrace, onRows: OnRows): Promise<void> {
  const buffer = rowBuffer(onRows)
  await packChannel(buffer, TIME_CHANNEL, '1', timeS, timeS)
  const names = channelNames(channels)
  for (const [index, { unit, values }] of channels.entries())
    await packChannel(buffer, names[index], unit, values, timeS)
  await buffer.flush()
}

/** The account's rows in the making, from chunks of CHUNK_SAMPLES samples that arrive in order. */
export interface AccountPacker {
  /** Takes the first `count` samples of the chunk, and rounds them. */
  add(chunk: AccountSeries, count: number): Promise<void>
  finish(): Promise<void>
}

export function accountPacker(timeS: Samples, onRows: OnRows): AccountPacker {
  const buffer = rowBuffer(onRows)
  const packers = ACCOUNT_SERIES.map((name) => ({
    name,
    packer: channelPacker(buffer, streamChannel(name), 'W', timeS, WATT_DECIMALS),
  }))
  return {
    add: async (chunk, count) => {
      for (const { name, packer } of packers) await packer.add(chunk[name].subarray(0, count))
    },
    finish: async () => {
      for (const { packer } of packers) await packer.finish()
      await buffer.flush()
    },
  }
}

/**
 * Works out the account chunk by chunk.
 * @param arrays where to: the same ones again, or new ones for each
 */
export async function eachAccountChunk(
  account: Account,
  sampleCount: number,
  arrays: () => AccountSeries,
  take: (chunk: AccountSeries, count: number) => Promise<void>,
): Promise<void> {
  for (let from = 0; from < sampleCount; from += CHUNK_SAMPLES) {
    const to = Math.min(from + CHUNK_SAMPLES, sampleCount)
    const chunk = arrays()
    account.fill(from, to, chunk)
    await take(chunk, to - from)
  }
}

export async function packAccount(account: Account, timeS: Samples, onRows: OnRows): Promise<void> {
  const chunk = accountArrays(CHUNK_SAMPLES)
  const packer = accountPacker(timeS, onRows)
  await eachAccountChunk(account, timeS.length, () => chunk, packer.add)
  await packer.finish()
}

/** Packs in this thread. */
export const packerTo = (onRows: OnRows): Packer => ({
  trace: (trace) => packTrace(trace, onRows),
  account: (account, timeS) => packAccount(account, timeS, onRows),
})
