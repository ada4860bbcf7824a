import { importError } from './fail'
import { sniffEncoding } from './sniff'

/** Bytes looked at before anything is decided. */
export const HEAD_BYTES = 256 * 1024
/** No logger writes a longer line; a file that does is no log. */
const LONGEST_LINE = 1 << 20
const FEWEST_LINES = 16
const LINE_FEED = 10
const WIDE = /^utf-16/

export interface LineBatch {
  readonly lines: readonly string[]
  /** 1-based number of the first line. */
  readonly firstLine: number
  /** True where the file ended without closing the last of these lines. */
  readonly lastLineOpen: boolean
  readonly bytesRead: number
}

/** Chunks of any size as pieces no larger than the head, so that one huge chunk costs no more than many. */
async function* inPieces(
  source: AsyncIterable<Uint8Array>,
  onRead: (bytes: number) => void,
): AsyncGenerator<Uint8Array> {
  for await (const chunk of source) {
    for (let at = 0; at < chunk.length; at += HEAD_BYTES) {
      const piece = chunk.subarray(at, at + HEAD_BYTES)
      onRead(piece.length)
      yield piece
    }
  }
}

/** A text of two bytes a character as UTF-8, in which every line feed is one byte that is part of no other character. */
async function* narrowed(
  pieces: AsyncGenerator<Uint8Array>,
  decoder: TextDecoder,
): AsyncGenerator<Uint8Array> {
  const encoder = new TextEncoder()
  try {
    for await (const piece of pieces) yield encoder.encode(decoder.decode(piece, { stream: true }))
    const rest = decoder.decode()
    if (rest !== '') yield encoder.encode(rest)
  } finally {
    await pieces.return(undefined)
  }
}

function concat(parts: readonly Uint8Array[]): Uint8Array {
  const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    all.set(part, at)
    at += part.length
  }
  return all
}

/** Splits at CR LF, LF and, in a file that has them, single CRs. */
function splitter(head: string): (text: string) => string[] {
  if (!head.includes('\n') && head.includes('\r')) {
    // Another program may have written on with line feeds.
    return (text) => (text.includes('\n') ? text.split(/\r\n?|\n/) : text.split('\r'))
  }
  return (text) => {
    const lines = text.split('\n')
    if (!text.includes('\r')) return lines
    let single = false
    for (let i = 0; i < lines.length; i++) {
      const line = lines[i]
      const cr = line.indexOf('\r')
      if (cr < 0) continue
      lines[i] = cr === line.length - 1 ? line.slice(0, -1) : line.replace(/\r+$/, '')
      if (lines[i].includes('\r')) single = true
    }
    return single ? lines.flatMap((line) => line.split('\r')) : lines
  }
}

/** How many whole lines were read as bytes, and where the first begins that was not. */
export interface TakenLines {
  readonly count: number
  readonly end: number
}

/** Reads lines as bytes from `from` on, the first of them the file's `line`th, for as long as it can. */
export type TakeLines = (bytes: Uint8Array, from: number, line: number) => TakenLines

export interface LineSource {
  readonly encoding: string
  readonly batches: AsyncGenerator<LineBatch>
  /** Set by who reads the batches: asked from then on before lines become text. */
  takeLines: TakeLines | null
}

/** So many lines taken for each that was not are worth asking again after one line. */
const WORTH_ASKING = 8

/**
 * The stretches of a chunk that have to become text, between those that `take` reads. The first line
 * is always text: it may have begun in the chunk before. Each answer of little makes the next stretch
 * of text twice as long, so that a file of surprises costs no more than without asking.
 */
function* textStretches(
  bytes: Uint8Array,
  take: (from: number) => TakenLines,
): Generator<Uint8Array, void, void> {
  let patience = 1
  for (let at = 0; at < bytes.length; ) {
    let end = at
    for (let line = 0; line < patience && end < bytes.length; line++) {
      const feed = bytes.indexOf(LINE_FEED, end)
      end = feed < 0 ? bytes.length : feed + 1
    }
    yield bytes.subarray(at, end)
    if (end === bytes.length) return
    const taken = take(end)
    patience = taken.count >= patience * WORTH_ASKING ? 1 : patience * 2
    at = taken.end
  }
}

/**
 * Bytes as batches of whole lines; the first batch covers the head sample, so that the dialect can
 * be decided from it. Never more than one chunk and one open line are held.
 * @throws TankwardError for bytes that are no text table, or a line beyond 1 Mi characters
 */
export async function readLines(source: AsyncIterable<Uint8Array>, fileName: string): Promise<LineSource> {
  let bytesRead = 0
  const pieces = inPieces(source, (bytes) => {
    bytesRead += bytes
  })
  const parts: Uint8Array[] = []
  let size = 0
  let done = false
  while (size < HEAD_BYTES && !done) {
    const next = await pieces.next()
    if (next.done) done = true
    else {
      parts.push(next.value)
      size += next.value.length
    }
  }
  const head = concat(parts)
  try {
    const encoding = sniffEncoding(head.subarray(0, HEAD_BYTES), done && size <= HEAD_BYTES, fileName)
    const isWide = WIDE.test(encoding)
    const own = new TextDecoder(encoding)
    const chunks = isWide ? narrowed(pieces, own) : pieces
    const first = isWide ? new TextEncoder().encode(own.decode(head, { stream: !done })) : head
    // The mark of the byte order is gone by then: another one is text.
    const decoder = isWide ? new TextDecoder('utf-8', { ignoreBOM: true }) : own
    const lines: LineSource = {
      encoding,
      batches: lineBatches({
        chunks,
        head: first,
        headIsAll: done,
        decoder,
        fileName,
        taker: () => lines.takeLines,
        bytesRead: () => bytesRead,
      }),
      takeLines: null,
    }
    return lines
  } catch (refusal) {
    await pieces.return(undefined)
    throw refusal
  }
}

interface LineSetup {
  readonly chunks: AsyncGenerator<Uint8Array>
  readonly head: Uint8Array
  readonly headIsAll: boolean
  readonly decoder: TextDecoder
  readonly fileName: string
  readonly taker: () => TakeLines | null
  readonly bytesRead: () => number
}

async function* lineBatches(setup: LineSetup): AsyncGenerator<LineBatch> {
  const { chunks, head, headIsAll, decoder, fileName, taker } = setup
  const headText = decoder.decode(head, { stream: !headIsAll })
  const split = splitter(headText)
  const lineEnd = !headText.includes('\n') && headText.includes('\r') ? '\r' : '\n'
  const byBytes = lineEnd === '\n'
  let open = ''
  let firstLine = 1

  /** The whole lines that this text completes; null where they are still too few to decide from. */
  const linesOf = (text: string, done: boolean): LineBatch | null => {
    // A CR at the end of a chunk may be half of a CR LF: it waits for the next chunk.
    const holdCr = !done && text.endsWith('\r')
    const lines = split(open + (holdCr ? text.slice(0, -1) : text))
    open = done ? '' : (lines.pop() ?? '') + (holdCr ? '\r' : '')
    // One long line may fill the whole head: the dialect is decided from several.
    const tooFew = firstLine === 1 && !done && lines.length < FEWEST_LINES && open.length <= LONGEST_LINE
    if (open.length > LONGEST_LINE || lines.some((line) => line.length > LONGEST_LINE)) {
      throw importError('line-too-long', { fileName, line: firstLine + lines.length, limit: LONGEST_LINE })
    }
    if (tooFew) open = [...lines, open].join(lineEnd)
    if (tooFew || lines.length === 0) return null
    const batch = {
      lines,
      firstLine,
      lastLineOpen: done && lines.at(-1) !== '',
      bytesRead: setup.bytesRead(),
    }
    firstLine += lines.length
    return batch
  }

  try {
    const first = linesOf(headText, headIsAll)
    if (first !== null) yield first
    while (!headIsAll) {
      const next = await chunks.next()
      if (next.done) {
        const last = linesOf(decoder.decode(), true)
        if (last !== null) yield last
        return
      }
      const take = byBytes ? taker() : null
      const takeFrom = (from: number): TakenLines => {
        const taken = take?.(next.value, from, firstLine) ?? { count: 0, end: from }
        firstLine += taken.count
        return taken
      }
      for (const stretch of take === null ? [next.value] : textStretches(next.value, takeFrom)) {
        const batch = linesOf(decoder.decode(stretch, { stream: true }), false)
        if (batch !== null) yield batch
      }
    }
  } finally {
    await chunks.return(undefined)
  }
}
