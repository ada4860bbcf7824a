import { createReadStream } from 'node:fs'
import { createGunzip } from 'node:zlib'
import { TankwardError } from '@/lib/errors'
import type { ReceivedFile } from './task'

/** zlib's complaints about what it was given, as opposed to a disk that failed. */
const isDamage = (error: unknown) =>
  error instanceof Error && 'code' in error && /^Z_(DATA|BUF)_ERROR$/.test(String(error.code))

/**
 * The text of a received file, unpacked, as it streams from disk.
 * @param onRead told the share of the file that has been read
 * @throws TankwardError `gzip-damaged` where a packed file is cut or broken
 */
export async function* openReceived(
  file: Pick<ReceivedFile, 'path' | 'isPacked' | 'diskBytes'>,
  onRead: (share: number) => void = () => {},
): AsyncGenerator<Uint8Array> {
  const disk = createReadStream(file.path, { highWaterMark: 1 << 20 })
  let read = 0
  disk.on('data', (bytes) => {
    read += bytes.length
    onRead(file.diskBytes > 0 ? read / file.diskBytes : 1)
  })
  if (!file.isPacked) {
    yield* disk
    return
  }
  const unpacked = createGunzip({ chunkSize: 1 << 18 })
  disk.on('error', (error) => unpacked.destroy(error))
  try {
    yield* disk.pipe(unpacked)
  } catch (error) {
    if (isDamage(error)) throw new TankwardError('gzip-damaged', {}, { cause: error })
    throw error
  } finally {
    disk.destroy()
  }
}
