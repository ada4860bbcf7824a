import { createReadStream } from 'node:fs'
import { pipeline } from 'node:stream'
import { constants, createBrotliCompress } from 'node:zlib'
import type { FilePiece } from '@/db/queries/log-files'
import type { Packing } from '@/db/schema/log-files'

/** A statement of one piece holds the embedded database for some 10 ms. */
const PIECE_BYTES = 1 << 19
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

/** Bytes that stream by, in pieces of PIECE_BYTES and a last one. */
async function* inPieces(source: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  let waiting: Uint8Array[] = []
  let length = 0
  for await (const bytes of source) {
    waiting.push(bytes)
    length += bytes.length
    if (length < PIECE_BYTES) continue
    const joined = Buffer.concat(waiting)
    let from = 0
    for (; length - from >= PIECE_BYTES; from += PIECE_BYTES) yield joined.subarray(from, from + PIECE_BYTES)
    waiting = [joined.subarray(from)]
    length -= from
  }
  if (length > 0) yield Buffer.concat(waiting)
}

/**
 * An original in pieces to store, as it came where it is packed already, else packed as it is read.
 * @param part which of the files of a recording, from 0
 */
export async function* filePieces(file: KeptFile, part = 0): AsyncGenerator<FilePiece> {
  const disk = createReadStream(file.path, { highWaterMark: READ_BYTES })
  const packing = file.isPacked ? file.packing : 'brotli'
  const params = { [constants.BROTLI_PARAM_QUALITY]: QUALITY }
  const packed = file.isPacked
    ? disk
    : pipeline(disk, createBrotliCompress({ chunkSize: READ_BYTES, params }), () => {
        // A fault destroys the stream that is read below, which throws it there.
      })
  let seq = 0
  for await (const bytes of inPieces(packed)) yield { part, seq: seq++, packing, bytes }
}
