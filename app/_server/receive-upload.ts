import { createHash } from 'node:crypto'
import { createWriteStream } from 'node:fs'
import { open } from 'node:fs/promises'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import type { ReadableStream } from 'node:stream/web'
import type { ArrivedFile } from '@/app/_jobs/import-log'
import { openReceived } from '@/app/_jobs/open-received'
import { removeTempFile, tempFile } from '@/app/_jobs/temp-file'
import { TankwardError } from '@/lib/errors'
import { ApiProblem } from './api-problem'
import { uploadName } from './upload-name'

export interface Upload {
  /** On disk; whoever takes it removes it. */
  readonly file: ArrivedFile
  /** Of the unpacked text: the same recording is known again however it was packed. */
  readonly sha256: string
  /** Length of the original file. */
  readonly byteLength: number
}

/** First bytes of every gzip file (RFC 1952). */
const GZIP_MAGIC = [0x1f, 0x8b]

function encodingOf(request: Request): 'gzip' | 'identity' {
  if (request.headers.get('content-type')?.startsWith('multipart/')) throw new ApiProblem('form-body')
  const encoding = (request.headers.get('content-encoding') ?? 'identity').trim().toLowerCase()
  if (encoding === 'gzip' || encoding === 'x-gzip') return 'gzip'
  if (encoding === 'identity' || encoding === '') return 'identity'
  throw new ApiProblem('unknown-encoding', { encoding })
}

/** Writes the body to disk as it arrives, and checks that all of it did. */
async function writeBody(request: Request, path: string): Promise<number> {
  if (!request.body) throw new ApiProblem('empty-body')
  const announced = request.headers.get('content-length')
  let received = 0
  const counted = async function* (body: ReadableStream<Uint8Array>) {
    for await (const bytes of body) {
      received += bytes.length
      yield bytes
    }
  }
  try {
    await pipeline(
      Readable.from(counted(request.body as ReadableStream<Uint8Array>)),
      createWriteStream(path),
    )
  } catch (error) {
    // The sender went away; a full disk and the like are faults of ours.
    if (!request.signal.aborted) throw error
    throw new ApiProblem('body-cut', { received, announced })
  }
  if (announced !== null && Number(announced) !== received)
    throw new ApiProblem('body-cut', { received, announced })
  if (received === 0) throw new ApiProblem('empty-body')
  return received
}

async function isGzip(path: string): Promise<boolean> {
  const disk = await open(path)
  try {
    const { buffer, bytesRead } = await disk.read(Buffer.alloc(GZIP_MAGIC.length), 0, GZIP_MAGIC.length, 0)
    return bytesRead === GZIP_MAGIC.length && GZIP_MAGIC.every((byte, i) => buffer[i] === byte)
  } finally {
    await disk.close()
  }
}

/**
 * Takes a raw body (plain, packed for the journey, or a packed file) to disk, never holding it whole in memory.
 * @throws ApiProblem where the body is missing, cut short or of a kind not taken; TankwardError `gzip-damaged`
 */
export async function receiveUpload(request: Request): Promise<Upload> {
  const encoding = encodingOf(request)
  const path = tempFile()
  try {
    const diskBytes = await writeBody(request, path)
    const isPacked = await isGzip(path)
    if (encoding === 'gzip' && !isPacked) throw new TankwardError('gzip-damaged')
    const hash = createHash('sha256')
    let unpackedBytes = 0
    for await (const bytes of openReceived({ path, isPacked, diskBytes })) {
      hash.update(bytes)
      unpackedBytes += bytes.length
    }
    // A file that is packed itself is kept as it is; text is kept packed, by whoever packed it.
    const packing = isPacked && encoding === 'identity' ? 'none' : 'gzip'
    return {
      file: { path, diskBytes, isPacked, packing, fileName: uploadName(request) },
      sha256: hash.digest('hex'),
      byteLength: packing === 'none' ? diskBytes : unpackedBytes,
    }
  } catch (error) {
    await removeTempFile(path)
    throw error
  }
}
