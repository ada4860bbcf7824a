import { createReadStream, createWriteStream } from 'node:fs'
import { pipeline } from 'node:stream/promises'
import { constants, createBrotliCompress } from 'node:zlib'
import type { FilePiece } from '@/db/queries/log-files'
import type { Packing } from '@/db/schema/log-files'
import { removeTempFile, tempFile } from './temp-file'

const PIECE_BYTES = 1 << 20
/** Brotli's quickest: digits become as small as with gzip's quickest, in a third of its time. */
const QUALITY = 0

/** A received file and how it is kept. */
export interface KeptFile {
  readonly path: string
  readonly isPacked: boolean
  /** `none` where the original is the packed file itself (a `.csv.gz`) and not text packed for the journey. */
  readonly packing: Packing
}

export interface PackedFile {
  readonly path: string
  readonly packing: Packing
  /** Removes what packing made; the received file stays. */
  remove(): Promise<void>
}

/** The original, packed: as it came where it is packed already, else beside it on the disk. */
export async function packFile(file: KeptFile): Promise<PackedFile> {
  if (file.isPacked) return { path: file.path, packing: file.packing, remove: async () => {} }
  const path = tempFile()
  const remove = () => removeTempFile(path)
  try {
    await pipeline(
      createReadStream(file.path, { highWaterMark: PIECE_BYTES }),
      createBrotliCompress({ params: { [constants.BROTLI_PARAM_QUALITY]: QUALITY } }),
      createWriteStream(path),
    )
    return { path, packing: 'brotli', remove }
  } catch (error) {
    await remove()
    throw error
  }
}

/** A packed original in pieces to store. */
export async function* filePieces(file: Pick<PackedFile, 'path' | 'packing'>): AsyncGenerator<FilePiece> {
  let seq = 0
  for await (const bytes of createReadStream(file.path, { highWaterMark: PIECE_BYTES }))
    yield { seq: seq++, packing: file.packing, bytes: bytes as Uint8Array }
}
