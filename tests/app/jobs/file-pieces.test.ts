import { mkdtempSync, readdirSync, readlinkSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { brotliDecompressSync, gunzipSync, gzipSync } from 'node:zlib'
import { afterEach, beforeEach, expect, it, vi } from 'vitest'
import { filePieces, type KeptFile } from '@/app/_jobs/file-pieces'
import { seededRandom } from '@/lib/numeric/random'

const MOST_BYTES = 1 << 19

let folder: string
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'tankward-pieces-'))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

/** Rows of a logger's file, several buffers of them, ending within one. */
function rows(count: number): Buffer {
  const random = seededRandom(3)
  const row = (i: number) => `${i},${(200 * random()).toFixed(2)},${(90 * random()).toFixed(3)}\r\n`
  return Buffer.from(Array.from({ length: count }, (_, i) => row(i)).join(''))
}

function written(bytes: Uint8Array): string {
  const path = join(folder, 'log')
  writeFileSync(path, bytes)
  return path
}

async function piecesOf(file: KeptFile): Promise<Uint8Array[]> {
  const pieces: Uint8Array[] = []
  for await (const { seq, bytes } of filePieces(file)) {
    expect(seq).toBe(pieces.length)
    expect(bytes.length).toBeLessThanOrEqual(MOST_BYTES)
    pieces.push(bytes)
  }
  return pieces
}

it('gives a file back byte for byte, packed as it is read', async () => {
  const original = rows(160_000)
  const pieces = await piecesOf({ path: written(original), isPacked: false, packing: 'brotli' })
  expect(original.length).toBeGreaterThan(3 * 2 ** 20)
  expect(pieces.length).toBeGreaterThan(2)
  expect(brotliDecompressSync(Buffer.concat(pieces)).equals(original)).toBe(true)
})

it('keeps a file that is packed already as it came', async () => {
  const packed = gzipSync(rows(160_000))
  const pieces = await piecesOf({ path: written(packed), isPacked: true, packing: 'none' })
  expect(Buffer.concat(pieces).equals(packed)).toBe(true)
  expect(gunzipSync(Buffer.concat(pieces)).equals(rows(160_000))).toBe(true)
})

it('knows an empty file', async () => {
  const pieces = await piecesOf({ path: written(new Uint8Array(0)), isPacked: false, packing: 'brotli' })
  expect(brotliDecompressSync(Buffer.concat(pieces))).toHaveLength(0)
})

it('says which file is not there, and leaves off where nobody wants more', async () => {
  const gone: KeptFile = { path: join(folder, 'gone'), isPacked: false, packing: 'brotli' }
  await expect(piecesOf(gone)).rejects.toMatchObject({ code: 'ENOENT' })
  const pieces = filePieces({ path: written(rows(160_000)), isPacked: false, packing: 'brotli' })
  expect((await pieces.next()).done).toBe(false)
  await pieces.return(undefined)
  expect((await pieces.next()).done).toBe(true)
})

/** How often this process holds a file open. */
const timesOpen = (path: string) =>
  readdirSync('/proc/self/fd').filter((id) => {
    try {
      return readlinkSync(`/proc/self/fd/${id}`) === path
    } catch {
      // The list's own.
      return false
    }
  }).length

it.runIf(process.platform === 'linux')(
  'closes a file that nobody wants more of while packed bytes wait to be read',
  async () => {
    const random = seededRandom(5)
    const path = written(Buffer.from(Array.from({ length: 12 * 2 ** 20 }, () => Math.floor(256 * random()))))
    const pieces = filePieces({ path, isPacked: false, packing: 'brotli' })
    await pieces.next()
    expect(timesOpen(path)).toBe(1)
    // Long enough for the stream to be as full as it gets.
    await new Promise((resolve) => setTimeout(resolve, 300))
    await pieces.return(undefined)
    await vi.waitFor(() => expect(timesOpen(path)).toBe(0))
  },
)
