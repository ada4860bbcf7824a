import { Readable } from 'node:stream'
import { gunzipped } from '@/app/_jobs/gunzipped'

const GZIP_MAGIC = [0x1f, 0x8b]

/**
 * The bytes of a stream, unpacked where they are gzip by their first two bytes.
 * @param fileName named in the error
 * @throws TankwardError `gzip-damaged` where the packed bytes are cut or broken
 */
export async function* unpacked(source: Readable, fileName: string): AsyncGenerator<Uint8Array> {
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
  const isPacked = GZIP_MAGIC.every((byte, i) => head[i] === byte)
  yield* isPacked ? gunzipped(Readable.from(all(), { objectMode: false }), { fileName }) : all()
}
