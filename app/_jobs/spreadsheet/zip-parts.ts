import { crc32 } from 'node:zlib'
import { SaxesParser, type SaxesTagPlain } from 'saxes'
import { type Entry, openPromise, type ZipFile } from 'yauzl'
import { type ErrorValues, TankwardError } from '@/lib/errors'

/** A workbook has some dozens of parts. */
const MOST_PARTS = 10_000
/** How many times its packed length a part may unpack to, from so many bytes on: sheets of numbers stay near 20. */
const MOST_RATIO = 200
const RATIO_FROM_BYTES = 32 << 20
/** The largest sheet the format allows of a log's columns is shorter. */
const MOST_PART_BYTES = 4_000_000_000
/** So much of a part without the end of a tag or a text is no workbook. */
const MOST_OPEN_BYTES = 4 << 20

/** Parts of a spreadsheet file, by their names in it. */
export interface ZipParts {
  readonly names: ReadonlySet<string>
  /**
   * Reads a part as XML from its start until it ends or `onTag` gives back false.
   * @throws TankwardError `spreadsheet-damaged`, `spreadsheet-too-large`
   */
  read(name: string, on: XmlEvents): AsyncGenerator<void>
  close(): void
}

/** Names come without their prefix. */
export interface XmlEvents {
  readonly onOpen: (name: string, attributes: Readonly<Record<string, string>>) => void
  readonly onClose?: (name: string) => void
  readonly onText?: (text: string) => void
}

const localName = (name: string): string => name.slice(name.indexOf(':') + 1)

function damaged(place: ErrorValues, cause: unknown): TankwardError {
  return new TankwardError('spreadsheet-damaged', place, { cause })
}

async function entriesOf(zip: ZipFile): Promise<Map<string, Entry>> {
  const entries = new Map<string, Entry>()
  for await (const entry of zip.eachEntry()) {
    entries.set(entry.fileName, entry)
    if (entries.size > MOST_PARTS) break
  }
  return entries
}

function parserOf(on: XmlEvents, sign: () => void): SaxesParser {
  const parser = new SaxesParser({ xmlns: false, position: false })
  parser.on('opentag', (tag: SaxesTagPlain) => {
    sign()
    on.onOpen(localName(tag.name), tag.attributes)
  })
  parser.on('closetag', (tag) => {
    sign()
    on.onClose?.(localName(tag.name))
  })
  parser.on('text', (text) => on.onText?.(text))
  parser.on('error', (error) => {
    throw error
  })
  return parser
}

async function* readPart(
  zip: ZipFile,
  entry: Entry,
  on: XmlEvents,
  place: ErrorValues,
): AsyncGenerator<void> {
  if (entry.isEncrypted()) throw damaged(place, new Error('encrypted'))
  // Lengths that a part does not keep to are refused by the reader.
  const { uncompressedSize: bytes, compressedSize: packed } = entry
  if (bytes > MOST_PART_BYTES || (bytes > RATIO_FROM_BYTES && bytes > MOST_RATIO * packed))
    throw new TankwardError('spreadsheet-too-large', {
      ...place,
      unpackedBytes: bytes,
      packedBytes: packed,
      mostRatio: MOST_RATIO,
      mostBytes: MOST_PART_BYTES,
    })
  let open = 0
  let sum = 0
  const parser = parserOf(on, () => {
    open = 0
  })
  const decoder = new TextDecoder('utf-8')
  const stream = await zip.openReadStreamPromise(entry)
  try {
    for await (const piece of stream as AsyncIterable<Uint8Array>) {
      open += piece.length
      sum = crc32(piece, sum)
      parser.write(decoder.decode(piece, { stream: true }))
      if (open > MOST_OPEN_BYTES) throw new Error('tag or text without end')
      yield
    }
    parser.write(decoder.decode()).close()
    if (sum !== entry.crc32) throw new Error('checksum')
  } catch (error) {
    throw error instanceof TankwardError ? error : damaged(place, error)
  } finally {
    stream.destroy()
  }
}

/**
 * Opens the parts of a zip file.
 * @throws TankwardError `spreadsheet-damaged` where it is none that can be read
 */
export async function openParts(path: string, fileName: string): Promise<ZipParts> {
  let zip: ZipFile | null = null
  try {
    zip = await openPromise(path, { lazyEntries: true, autoClose: false })
    const entries = await entriesOf(zip)
    const opened = zip
    return {
      names: new Set(entries.keys()),
      async *read(name, on) {
        const entry = entries.get(name)
        if (entry) yield* readPart(opened, entry, on, { fileName, part: name })
      },
      close: () => opened.close(),
    }
  } catch (error) {
    zip?.close()
    throw damaged({ fileName }, error)
  }
}

/** Reads a part whole. */
export async function readWhole(parts: ZipParts, name: string, on: XmlEvents): Promise<void> {
  for await (const _ of parts.read(name, on));
}
