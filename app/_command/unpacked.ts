import { PassThrough, type Readable } from 'node:stream'
import { createGunzip } from 'node:zlib'
import { TankwardError } from '@/lib/errors'

const GZIP_MAGIC = [0x1f, 0x8b]

const isGzipDamage = (error: unknown) =>
  error instanceof Error && 'code' in error && /^Z_(DATA|BUF)_ERROR$/.test(String(error.code))

/**
 * The bytes of a stream, unpacked where they are gzip by their first two bytes.
 * @throws TankwardError `gzip-damaged` where the packed bytes are cut or broken
 */
export async function* unpacked(source: Readable): AsyncGenerator<Uint8Array> {
  const chunks = source[Symbol.asyncIterator]() as AsyncIterator<Buffer>
  let head = Buffer.alloc(0)
  while (head.length < GZIP_MAGIC.length) {
    const next = await chunks.next()
    if (next.done) break
    head = Buffer.concat([head, next.value])
  }
  async function* all() {
    if (head.length > 0) yield head
    for (let next = await chunks.next(); !next.done; next = await chunks.next()) yield next.value
  }
  if (!GZIP_MAGIC.every((byte, i) => head[i] === byte)) {
    yield* all()
    return
  }
  const gunzip = createGunzip()
  const feed = PassThrough.from(all())
  feed.on('error', (error: Error) => gunzip.destroy(error))
  try {
    yield* feed.pipe(gunzip)
  } catch (error) {
    if (isGzipDamage(error)) throw new TankwardError('gzip-damaged', {}, { cause: error })
    throw error
  }
}
