import { createHash } from 'node:crypto'
import { createWriteStream } from 'node:fs'
import { open } from 'node:fs/promises'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import type { ReadableStream } from 'node:stream/web'
import type { ArrivedFile } from '@/app/_jobs/import-log'
import { openReceived } from '@/app/_jobs/open-received'
import { freeBytes, removeTempFile, tempFile } from '@/app/_jobs/temp-file'
import type { LogPart } from '@/db/schema/logs'
import { TankwardError } from '@/lib/errors'
import { ApiProblem } from './api-problem'
import { takeUpload } from './resumable'
import { sentName, uploadName } from './upload-name'

export interface Upload {
  /** On disk; whoever takes it removes it. */
  readonly file: ArrivedFile
  /** Of the unpacked text: the same recording is known again however it was packed. */
  readonly sha256: string
  /** Length of the original file. */
  readonly byteLength: number
  /** Its files where it came in several. */
  readonly parts?: LogPart[]
}

/** A recording comes in no more files. */
const MOST_FILES = 50

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

async function shaOf(file: Pick<ArrivedFile, 'path' | 'isPacked' | 'diskBytes'>) {
  const hash = createHash('sha256')
  let unpackedBytes = 0
  for await (const bytes of openReceived(file)) {
    hash.update(bytes)
    unpackedBytes += bytes.length
  }
  return { sha256: hash.digest('hex'), unpackedBytes }
}

/** To disk comes what the request brings itself, or what was sent before in pieces (`?upload=`). */
async function receiveOne(request: Request, upload: string | null, isAlone: boolean): Promise<Upload> {
  const encoding = encodingOf(request)
  const path = tempFile()
  try {
    const sent =
      upload === null
        ? { bytes: await writeBody(request, path), fileName: null }
        : await takeUpload(upload, path)
    const diskBytes = sent.bytes
    if (diskBytes === 0) throw new ApiProblem('empty-body')
    const isPacked = await isGzip(path)
    if (encoding === 'gzip' && !isPacked) throw new TankwardError('gzip-damaged')
    const { sha256, unpackedBytes } = await shaOf({ path, isPacked, diskBytes })
    // A file that is packed itself is kept as it is; text is kept packed, by whoever packed it.
    const packing = isPacked && encoding === 'identity' ? 'none' : 'gzip'
    const fileName = isAlone ? uploadName(request, sent.fileName) : sentName(sent.fileName)
    return {
      file: { path, diskBytes, isPacked, packing, fileName },
      sha256,
      byteLength: packing === 'none' ? diskBytes : unpackedBytes,
    }
  } catch (error) {
    await removeTempFile(path)
    throw error
  }
}

/** One and the same, in whichever order its files come. */
function shaOfAll(parts: readonly Upload[]): string {
  const sorted = parts.map(({ sha256 }) => sha256).sort()
  return createHash('sha256').update(sorted.join('\n')).digest('hex')
}

/** Files of one name are told apart: what is said of one is said by its name. */
function namedApart(parts: readonly Upload[]): Upload[] {
  return parts.map((part, i) => {
    const { fileName } = part.file
    const before = parts.slice(0, i).filter(({ file }) => file.fileName === fileName).length
    return before === 0 ? part : { ...part, file: { ...part.file, fileName: `${before + 1} ${fileName}` } }
  })
}

/**
 * Takes a raw body (plain, packed for the journey, or a packed file), or uploads that are whole, to files of their own on
 * disk, never holding them whole in memory. Several uploads (`?upload=` repeated) are files of one recording.
 * @throws ApiProblem where the body is missing, cut short or of a kind not taken, where an upload is not known or not
 * whole, where there is no room; TankwardError `gzip-damaged`, `gzip-too-large`
 */
export async function receiveUpload(request: Request): Promise<Upload> {
  const uploads = new URL(request.url).searchParams.getAll('upload')
  if (uploads.length <= 1) return receiveOne(request, uploads[0] ?? null, true)
  if (uploads.length > MOST_FILES)
    throw new ApiProblem('bad-query', {
      name: 'upload',
      expected: `at most ${MOST_FILES}`,
      actual: uploads.length,
    })
  const received: Upload[] = []
  try {
    for (const upload of uploads) received.push(await receiveOne(request, upload, false))
  } catch (error) {
    for (const { file } of received) await removeTempFile(file.path)
    throw error
  }
  const parts = namedApart(received)
  const [first, ...further] = parts.map(({ file }) => file)
  return {
    file: { ...first, further },
    sha256: shaOfAll(parts),
    byteLength: parts.reduce((sum, part) => sum + part.byteLength, 0),
    parts: parts.map(({ file, sha256, byteLength }) => ({ fileName: file.fileName, byteLength, sha256 })),
  }
}
