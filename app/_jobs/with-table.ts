import { createReadStream, createWriteStream } from 'node:fs'
import { Readable } from 'node:stream'
import { pipeline } from 'node:stream/promises'
import type { SheetSource } from '@/lib/import/report'
import { openSpreadsheet } from './spreadsheet/open-spreadsheet'
import { removeTempFile, tempFile } from './temp-file'

/** A file's rows as text, whatever they came in. */
export interface OpenedTable {
  readonly text: AsyncIterable<Uint8Array>
  /** Where the file is a spreadsheet. */
  readonly spreadsheet: SheetSource | null
}

/** First bytes of a zip file, which a spreadsheet is, whatever its name says. */
const ZIP_MAGIC = [0x50, 0x4b, 0x03, 0x04]

/** The stream as it was, and whether it begins as a zip file does. */
async function peeked(bytes: AsyncIterable<Uint8Array>) {
  const pieces = bytes[Symbol.asyncIterator]()
  const taken: Uint8Array[] = []
  const head: number[] = []
  while (head.length < ZIP_MAGIC.length) {
    const next = await pieces.next()
    if (next.done) break
    taken.push(next.value)
    head.push(...next.value.subarray(0, ZIP_MAGIC.length - head.length))
  }
  async function* all(): AsyncGenerator<Uint8Array> {
    try {
      yield* taken
      for (let next = await pieces.next(); !next.done; next = await pieces.next()) yield next.value
    } finally {
      await pieces.return?.()
    }
  }
  return { all, isZip: ZIP_MAGIC.every((byte, i) => head[i] === byte) }
}

/** A zip file's last part tells where its parts are: it is on the disk while it is read. */
async function withZip<T>(
  bytes: () => AsyncGenerator<Uint8Array>,
  fileName: string,
  use: (table: OpenedTable) => Promise<T>,
): Promise<T> {
  const path = tempFile()
  try {
    await pipeline(Readable.from(bytes()), createWriteStream(path))
    const opened = await openSpreadsheet(path, fileName)
    // Another archive: the reader says what it is.
    if (opened === null) return await use({ text: createReadStream(path), spreadsheet: null })
    try {
      return await use({ text: opened.text(), spreadsheet: opened.source })
    } finally {
      opened.close()
    }
  } finally {
    await removeTempFile(path)
  }
}

/**
 * Opens a file's table: text as it is, the sheet of a spreadsheet as text.
 * @param bytes the file, unpacked where it was gzip
 * @throws TankwardError `spreadsheet-damaged`, `spreadsheet-too-large`, `spreadsheet-without-table`
 */
export async function withTable<T>(
  bytes: AsyncIterable<Uint8Array>,
  fileName: string,
  use: (table: OpenedTable) => Promise<T>,
): Promise<T> {
  const { all, isZip } = await peeked(bytes)
  return isZip ? withZip(all, fileName, use) : use({ text: all(), spreadsheet: null })
}
