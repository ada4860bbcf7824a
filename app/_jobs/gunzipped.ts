import type { Readable } from 'node:stream'
import { createGunzip } from 'node:zlib'
import { type ErrorValues, TankwardError } from '@/lib/errors'

/** zlib's complaints about what it was given, as opposed to a disk that failed. */
const isDamage = (error: unknown) =>
  error instanceof Error && 'code' in error && /^Z_(DATA|BUF)_ERROR$/.test(String(error.code))

/**
 * The bytes of a gzip stream, unpacked. The source is closed when reading ends, however it ends.
 * @param place values that name the file in the error
 * @throws TankwardError `gzip-damaged` where the packed bytes are cut or broken
 */
export async function* gunzipped(source: Readable, place: ErrorValues = {}): AsyncGenerator<Uint8Array> {
  const unpacked = createGunzip({ chunkSize: 1 << 18 })
  source.on('error', (error) => unpacked.destroy(error))
  try {
    yield* source.pipe(unpacked)
  } catch (error) {
    if (isDamage(error)) throw new TankwardError('gzip-damaged', place, { cause: error })
    throw error
  } finally {
    source.destroy()
  }
}
