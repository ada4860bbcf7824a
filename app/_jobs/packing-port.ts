import type { MessagePort } from 'node:worker_threads'
import { type AccountSeries, accountArrays } from '@/lib/ledger/account-series'
import { CHUNK_SAMPLES } from '@/lib/samples/codec'
import {
  type AccountPacker,
  accountPacker,
  eachAccountChunk,
  type PackedTrace,
  type Packer,
  packTrace,
} from './pack-log'
import type { OnRows } from './task'
import type { Packed } from './worker-message'

// An import's packing in a thread of its own: what is to be packed comes from the thread that analyses.

/** Its trace, whose arrays both threads share, then its account chunk by chunk, then the end of it. */
type ToPack =
  | { readonly kind: 'trace'; readonly trace: PackedTrace }
  | { readonly kind: 'account'; readonly chunk: AccountSeries; readonly count: number }
  | { readonly kind: 'end' }

/** Chunks that may wait to be packed, some 30 MB. */
const MOST_WAITING = 48

const buffersOf = (chunk: AccountSeries) => Object.values(chunk).map(({ buffer }) => buffer as ArrayBuffer)

/** Has it packed at the other end of the port. */
export function packerAt(port: MessagePort): Packer {
  const tell = (message: ToPack, transfer: ArrayBuffer[] = []) => port.postMessage(message, transfer)
  let waiting = 0
  let onReturned = () => {}
  /** Arrays that came back once they were packed, to be filled again: 200 MB of new ones would be made for a long log. */
  const spare: AccountSeries[] = []
  port.on('message', (chunk: AccountSeries) => {
    spare.push(chunk)
    waiting--
    onReturned()
  })
  return {
    trace: async ({ timeS, channels }) => tell({ kind: 'trace', trace: { timeS, channels } }),
    account: async (account, timeS) => {
      const arrays = () => spare.pop() ?? accountArrays(CHUNK_SAMPLES)
      await eachAccountChunk(account, timeS.length, arrays, async (chunk, count) => {
        tell({ kind: 'account', chunk, count }, buffersOf(chunk))
        waiting++
        if (waiting < MOST_WAITING) return
        await new Promise<void>((resolve) => {
          onReturned = resolve
        })
      })
      tell({ kind: 'end' })
    },
  }
}

/**
 * Packs what comes through the port; ends with it.
 * @param onPacked told once all rows of it were handed on
 */
export function packFrom(port: MessagePort, onRows: OnRows, onPacked: (what: Packed) => void): Promise<void> {
  return new Promise((resolve, reject) => {
    let account: AccountPacker | null = null
    const pack = async (message: ToPack) => {
      if (message.kind === 'trace') {
        account = accountPacker(message.trace.timeS, onRows)
        await packTrace(message.trace, onRows)
        onPacked('trace')
      } else if (message.kind === 'account') {
        await account?.add(message.chunk, message.count)
        port.postMessage(message.chunk, buffersOf(message.chunk))
      } else {
        await account?.finish()
        onPacked('account')
        port.close()
        resolve()
      }
    }
    let packing: Promise<void> = Promise.resolve()
    port.on('message', (message: ToPack) => {
      packing = packing.then(() => pack(message))
      packing.catch(reject)
    })
  })
}
