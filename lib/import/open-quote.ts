/** Lines over which one quoted cell of a row may run. */
const MOST_LINES = 12

interface HeldLine {
  readonly text: string
  readonly number: number
  readonly cutOff: boolean
}

function hasOddQuotes(line: string): boolean {
  return line.split('"').length % 2 === 0
}

/**
 * Joins a row whose quoted cell (a remark) holds line ends. A line that leaves a quotation mark open
 * waits for the one that closes it; where a whole row comes first, the mark was a stray one and every
 * line stands for itself, so that it can never swallow rows.
 */
export class OpenQuote {
  private held: HeldLine[] = []

  constructor(
    private readonly isRow: (line: string) => boolean,
    private readonly emit: (line: string, number: number, cutOff: boolean) => void,
  ) {}

  /** True while lines wait for the mark that closes a cell. */
  get isWaiting(): boolean {
    return this.held.length > 0
  }

  push(text: string, number: number, cutOff: boolean): void {
    const { held } = this
    const quoted = text.includes('"')
    if (held.length === 0) {
      if (quoted && hasOddQuotes(text) && !cutOff) held.push({ text, number, cutOff })
      else this.emit(text, number, cutOff)
      return
    }
    if (held.length >= MOST_LINES || this.isRow(text)) {
      this.flush()
      this.push(text, number, cutOff)
      return
    }
    held.push({ text, number, cutOff })
    if (!quoted || !hasOddQuotes(text)) return
    this.held = []
    this.emit(held.map((line) => line.text).join(' '), held[0].number, cutOff)
  }

  /** Lets go of lines whose mark was never closed. */
  flush(): void {
    const { held } = this
    this.held = []
    for (const line of held) this.emit(line.text, line.number, line.cutOff)
  }
}
