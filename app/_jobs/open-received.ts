import { createReadStream } from 'node:fs'
import { gunzipped } from './gunzipped'
import type { ReceivedFile } from './task'

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
  yield* file.isPacked ? gunzipped(disk) : disk
}
