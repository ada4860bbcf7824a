import type { Readable } from 'node:stream'
import { createGunzip } from 'node:zlib'
import { type ErrorValues, TankwardError } from '@/lib/errors'

/**
 * How many times its packed length a file may unpack to. A logger's rows differ in their time at least, which takes some
 * bytes a row: even hundreds of constant columns stay near 100. DEFLATE itself ends at 1032 (RFC 1951).
 */
export const MOST_RATIO = 400
/** Below this the ratio is not asked. */
const RATIO_FROM_BYTES = 64 << 20
/** No recording is longer unpacked: some 300 million rows of five channels. */
export const MOST_UNPACKED_BYTES = 20_000_000_000

/** zlib's complaints about what it was given, as opposed to a disk that failed. */
const isDamage = (error: unknown) =>
  error instanceof Error && 'code' in error && /^Z_(DATA|BUF)_ERROR$/.test(String(error.code))

/**
 * The bytes of a gzip stream, unpacked. The source is closed when reading ends, however it ends.
 * @param place values that name the file in the error
 * @throws TankwardError `gzip-damaged` where the packed bytes are cut or broken, `gzip-too-large` where they unpack to
 * more than a log can be
 */
export async function* gunzipped(source: Readable, place: ErrorValues = {}): AsyncGenerator<Uint8Array> {
  const unpacked = createGunzip({ chunkSize: 1 << 18 })
  source.on('error', (error) => unpacked.destroy(error))
  let bytes = 0
  try {
    for await (const piece of source.pipe(unpacked)) {
      bytes += piece.length
      const isBomb = bytes > RATIO_FROM_BYTES && bytes > MOST_RATIO * unpacked.bytesWritten
      if (isBomb || bytes > MOST_UNPACKED_BYTES)
        throw new TankwardError('gzip-too-large', {
          ...place,
          unpackedBytes: bytes,
          packedBytes: unpacked.bytesWritten,
          mostRatio: MOST_RATIO,
          mostBytes: MOST_UNPACKED_BYTES,
        })
      yield piece
    }
  } catch (error) {
    if (isDamage(error)) throw new TankwardError('gzip-damaged', place, { cause: error })
    throw error
  } finally {
    source.destroy()
    unpacked.destroy()
  }
}
