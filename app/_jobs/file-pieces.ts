import { createReadStream } from 'node:fs'
import { Readable } from 'node:stream'
import { createGzip } from 'node:zlib'
import type { FilePiece } from '@/db/queries/log-files'
import type { Packing } from '@/db/schema/log-files'

const PIECE_BYTES = 1 << 20

/** How the original is kept: as it came where it is packed already, else packed. */
export interface KeptFile {
  readonly path: string
  readonly isPacked: boolean
  /** Whether the original is the packed file itself (a `.csv.gz`) and not text that was packed for the journey. */
  readonly packing: Packing
}

/** The original in pieces to store. */
export async function* filePieces(file: KeptFile): AsyncGenerator<FilePiece> {
  const disk = createReadStream(file.path, { highWaterMark: PIECE_BYTES })
  const packed: Readable = file.isPacked ? disk : Readable.from(disk).pipe(createGzip({ level: 6 }))
  let waiting: Uint8Array[] = []
  let waitingBytes = 0
  let seq = 0
  const next = (): FilePiece => {
    const bytes = new Uint8Array(Buffer.concat(waiting))
    waiting = []
    waitingBytes = 0
    return { seq: seq++, packing: file.packing, bytes }
  }
  for await (const bytes of packed) {
    waiting.push(bytes as Uint8Array)
    waitingBytes += (bytes as Uint8Array).length
    if (waitingBytes >= PIECE_BYTES) yield next()
  }
  if (waitingBytes > 0 || seq === 0) yield next()
}
