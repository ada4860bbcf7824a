import { createHash } from 'node:crypto'
import { createWriteStream } from 'node:fs'
import { open } from 'node:fs/promises'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import type { ReadableStream } from 'node:stream/web'
import type { ArrivedFile } from '@/app/_jobs/import-log'
import { openReceived } from '@/app/_jobs/open-received'
import { freeBytes, removeTempFile, tempFile } from '@/app/_jobs/temp-file'
import { TankwardError } from '@/lib/errors'
import { ApiProblem } from './api-problem'
import { takeUpload } from './resumable'
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
  if (Number(announced ?? 0) > (await freeBytes())) throw new ApiProblem('disk-full')
  let received = 0
  const counted = async function* (body: ReadableStream<Uint8Array>) {
    try {
      for await (const bytes of body) {
        received += bytes.length
        yield bytes
      }
    } catch {
      // The sender went away; a full disk and the like show where the bytes are written.
      throw new ApiProblem('body-cut', { received, announced: announced ?? 'an unknown number' })
    }
  }
  await pipeline(Readable.from(counted(request.body as ReadableStream<Uint8Array>)), createWriteStream(path))
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

/** To disk comes what the request brings itself, or what was sent before in pieces (`?upload=`). */
async function toDisk(request: Request, path: string): Promise<{ bytes: number; sentAs: string | null }> {
  const upload = new URL(request.url).searchParams.get('upload')
  if (upload === null) return { bytes: await writeBody(request, path), sentAs: null }
  const { bytes, fileName } = await takeUpload(upload, path)
  if (bytes === 0) throw new ApiProblem('empty-body')
  return { bytes, sentAs: fileName }
}

/**
 * Takes a raw body (plain, packed for the journey, or a packed file), or an upload that is whole, to a file of its own on
 * disk, never holding it whole in memory.
 * @throws ApiProblem where the body is missing, cut short or of a kind not taken, where the upload is not known or not
 * whole, where there is no room; TankwardError `gzip-damaged`, `gzip-too-large`
 */
export async function receiveUpload(request: Request): Promise<Upload> {
  const encoding = encodingOf(request)
  const path = tempFile()
  try {
    const { bytes: diskBytes, sentAs } = await toDisk(request, path)
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
      file: { path, diskBytes, isPacked, packing, fileName: uploadName(request, sentAs) },
      sha256: hash.digest('hex'),
      byteLength: packing === 'none' ? diskBytes : unpackedBytes,
    }
  } catch (error) {
    await removeTempFile(path)
    throw error
  }
}
