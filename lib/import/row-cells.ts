const LINE_FEED = 10
const RETURN = 13
const SPACE = 32
const QUOTE = 34
const POINT = 46
const COMMA = 44
const FIRST_NOT_ASCII = 128
const LONGEST_CELL = 64
const NONE = -1

/** Where the cells of one line lie in its bytes, quotation marks around them left out. */
export class RowCells {
  readonly froms: Int32Array
  readonly ends: Int32Array
  private readonly isSpaced: boolean

  constructor(
    private readonly width: number,
    private readonly delimiter: number,
  ) {
    this.froms = new Int32Array(width)
    this.ends = new Int32Array(width)
    this.isSpaced = delimiter === SPACE
  }

  /** Finds the cells of the line at `start`: where the next one begins, or -1 where only the line as text can tell. */
  locate(bytes: Uint8Array, start: number): number {
    const { froms, ends, width, delimiter } = this
    let at = start
    for (let cell = 0; cell < width; cell++) {
      at = this.skipBlanks(bytes, at)
      const isQuoted = bytes[at] === QUOTE && !this.isSpaced
      froms[cell] = isQuoted ? at + 1 : at
      const end = isQuoted ? this.quotedEnd(bytes, at + 1) : this.plainEnd(bytes, at)
      if (end === NONE) return NONE
      ends[cell] = end
      at = isQuoted ? end + 1 : end
      if (cell < width - 1 && bytes[at++] !== delimiter) return NONE
    }
    return this.passLineEnd(bytes, this.skipBlanks(bytes, at))
  }

  /** Where the next line begins, -1 where the line does not end here. */
  passLineEnd(bytes: Uint8Array, at: number): number {
    if (bytes[at] === LINE_FEED) return at + 1
    return bytes[at] === RETURN && bytes[at + 1] === LINE_FEED ? at + 2 : NONE
  }

  /** Where the unquoted cell ends that begins at `at`; -1 where only the line as text can tell. */
  plainEnd(bytes: Uint8Array, at: number): number {
    const { delimiter, isSpaced } = this
    for (let i = at; ; i++) {
      const byte = bytes[i]
      if (byte === delimiter || byte === LINE_FEED || byte === RETURN) return isSpaced && i === at ? NONE : i
      if (byte === QUOTE) return NONE
      // Blanks of any kind part cells there.
      if (isSpaced && (byte < SPACE || byte >= FIRST_NOT_ASCII)) return NONE
    }
  }

  private quotedEnd(bytes: Uint8Array, at: number): number {
    for (let i = at; ; i++) {
      const byte = bytes[i]
      if (byte === LINE_FEED || byte === RETURN) return NONE
      if (byte !== QUOTE) continue
      const next = bytes[i + 1]
      return next === this.delimiter || next === LINE_FEED || next === RETURN ? i : NONE
    }
  }

  private skipBlanks(bytes: Uint8Array, from: number): number {
    let at = from
    if (this.isSpaced) while (bytes[at] === SPACE) at++
    return at
  }

  hasMark(bytes: Uint8Array, cell: number): boolean {
    for (let i = this.froms[cell]; i < this.ends[cell]; i++) {
      if (bytes[i] === POINT || bytes[i] === COMMA) return true
    }
    return false
  }

  /** A cell of ASCII as text; null for a longer one and for other characters. */
  text(bytes: Uint8Array, cell: number): string | null {
    const [from, end] = [this.froms[cell], this.ends[cell]]
    if (end - from > LONGEST_CELL) return null
    let text = ''
    for (let i = from; i < end; i++) {
      if (bytes[i] >= FIRST_NOT_ASCII) return null
      text += String.fromCharCode(bytes[i])
    }
    return text
  }
}
