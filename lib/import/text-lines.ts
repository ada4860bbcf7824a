import { importError } from './fail'
import { sniffEncoding } from './sniff'

/** Bytes looked at before anything is decided. */
export const HEAD_BYTES = 256 * 1024
/** No logger writes a longer line; a file that does is no log. */
const LONGEST_LINE = 1 << 20
const FEWEST_LINES = 16

export interface LineBatch {
  readonly lines: readonly string[]
  /** 1-based number of the first line. */
  readonly firstLine: number
  /** True where the file ended without closing the last of these lines. */
  readonly lastLineOpen: boolean
  readonly bytesRead: number
}

/** Chunks of any size as pieces no larger than the head, so that one huge chunk costs no more than many. */
async function* inPieces(source: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  for await (const chunk of source) {
    for (let at = 0; at < chunk.length; at += HEAD_BYTES) yield chunk.subarray(at, at + HEAD_BYTES)
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
  if (!head.includes('\n') && head.includes('\r')) return (text) => text.split('\r')
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

export interface LineSource {
  readonly encoding: string
  readonly batches: AsyncGenerator<LineBatch>
}

/**
 * Bytes as batches of whole lines; the first batch covers the head sample, so that the dialect can
 * be decided from it. Never more than one chunk and one open line are held.
 * @throws TankwardError for bytes that are no text table, or a line beyond 1 Mi characters
 */
export async function readLines(source: AsyncIterable<Uint8Array>, fileName: string): Promise<LineSource> {
  const chunks = inPieces(source)
  const parts: Uint8Array[] = []
  let size = 0
  let done = false
  while (size < HEAD_BYTES && !done) {
    const next = await chunks.next()
    if (next.done) done = true
    else {
      parts.push(next.value)
      size += next.value.length
    }
  }
  const head = concat(parts)
  try {
    const encoding = sniffEncoding(head.subarray(0, HEAD_BYTES), done && size <= HEAD_BYTES, fileName)
    return { encoding, batches: lineBatches(chunks, head, done, encoding, fileName) }
  } catch (refusal) {
    await chunks.return(undefined)
    throw refusal
  }
}

async function* lineBatches(
  chunks: AsyncGenerator<Uint8Array>,
  head: Uint8Array,
  headIsAll: boolean,
  encoding: string,
  fileName: string,
): AsyncGenerator<LineBatch> {
  const decoder = new TextDecoder(encoding)
  let text = decoder.decode(head, { stream: !headIsAll })
  const split = splitter(text)
  const lineEnd = !text.includes('\n') && text.includes('\r') ? '\r' : '\n'
  let open = ''
  let firstLine = 1
  let bytesRead = head.length
  let done = headIsAll
  try {
    for (;;) {
      // A CR at the end of a chunk may be half of a CR LF: it waits for the next chunk.
      const holdCr = !done && text.endsWith('\r')
      const lines = split(open + (holdCr ? text.slice(0, -1) : text))
      open = done ? '' : (lines.pop() ?? '') + (holdCr ? '\r' : '')
      // One long line may fill the whole head: the dialect is decided from several.
      const tooFew = firstLine === 1 && !done && lines.length < FEWEST_LINES && open.length <= LONGEST_LINE
      if (open.length > LONGEST_LINE || lines.some((line) => line.length > LONGEST_LINE)) {
        throw importError('line-too-long', { fileName, line: firstLine + lines.length, limit: LONGEST_LINE })
      }
      const lastLineOpen = done && lines.at(-1) !== ''
      if (tooFew) open = [...lines, open].join(lineEnd)
      else {
        if (lines.length > 0) yield { lines, firstLine, lastLineOpen, bytesRead }
        if (done) return
        firstLine += lines.length
      }
      const next = await chunks.next()
      if (next.done) {
        done = true
        text = decoder.decode()
      } else {
        bytesRead += next.value.length
        text = decoder.decode(next.value, { stream: true })
      }
    }
  } finally {
    await chunks.return(undefined)
  }
}
