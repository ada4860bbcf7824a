import { createReadStream } from 'node:fs'
import { open } from 'node:fs/promises'
import { type BrotliCompress, constants, createBrotliCompress } from 'node:zlib'
import type { FilePiece } from '@/db/queries/log-files'
import type { Packing } from '@/db/schema/log-files'

/** A statement of one piece holds the embedded database for some 5 ms. */
const MOST_BYTES = 1 << 18
/** What streams by in less is joined, so that pieces do not become many. */
const LEAST_BYTES = 1 << 17
const READ_BYTES = 1 << 20
/** Brotli's quickest: digits become as small as with gzip's quickest, in a third of its time. */
const QUALITY = 0

/** A received file and how it is kept. */
export interface KeptFile {
  readonly path: string
  readonly isPacked: boolean
  /** `none` where the original is the packed file itself (a `.csv.gz`) and not text packed for the journey. */
  readonly packing: Packing
}

/** Bytes that stream by, in pieces of LEAST_BYTES to MOST_BYTES and what is left over. */
async function* inPieces(source: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  let waiting: Uint8Array[] = []
  let length = 0
  const joined = () => (waiting.length === 1 ? waiting[0] : Buffer.concat(waiting))
  for await (const bytes of source) {
    waiting.push(bytes)
    length += bytes.length
    if (length < LEAST_BYTES) continue
    const all = joined()
    for (let from = 0; from < length; from += MOST_BYTES) yield all.subarray(from, from + MOST_BYTES)
    waiting = []
    length = 0
  }
  if (length > 0) yield joined()
}

/** Writes to a stream; done once that has taken the bytes in, or nobody reads it any more. */
const written = (into: BrotliCompress, bytes: Uint8Array) =>
  new Promise<void>((resolve, reject) => {
    // A stream that is destroyed with bytes waiting to be read never calls back.
    into.once('close', resolve)
    into.write(bytes, (error) => {
      into.off('close', resolve)
      if (error) reject(error)
      else resolve()
    })
  })

/** Gives a file to the stream that packs it, through one buffer: one a read would be hundreds of MB to clear away. */
async function feed(path: string, into: BrotliCompress): Promise<void> {
  const file = await open(path)
  try {
    const buffer = Buffer.allocUnsafe(READ_BYTES)
    while (!into.destroyed) {
      const { bytesRead } = await file.read(buffer, 0, READ_BYTES)
      if (bytesRead === 0) break
      await written(into, buffer.subarray(0, bytesRead))
    }
    into.end()
  } finally {
    await file.close()
  }
}

/** A file packed while it is read. */
function packed(path: string): AsyncIterable<Uint8Array> {
  const params = { [constants.BROTLI_PARAM_QUALITY]: QUALITY }
  const brotli = createBrotliCompress({ chunkSize: READ_BYTES, params })
  // A fault destroys the stream that is read, which throws it there; where reading has ended early, nobody needs it.
  feed(path, brotli).catch((error) => brotli.destroy(error))
  return brotli
}

/**
 * An original in pieces to store, as it came where it is packed already, else packed as it is read.
 * @param part which of the files of a recording, from 0
 */
export async function* filePieces(file: KeptFile, part = 0): AsyncGenerator<FilePiece> {
  const packing = file.isPacked ? file.packing : 'brotli'
  const bytes = file.isPacked ? createReadStream(file.path, { highWaterMark: READ_BYTES }) : packed(file.path)
  let seq = 0
  for await (const piece of inPieces(bytes)) yield { part, seq: seq++, packing, bytes: piece }
}
