import type { ProblemExample } from '@/lib/contract/result'
import { type CodedSamples, inFull } from '@/lib/samples/samples'
import { readSwitch } from './cell-kind'
import { decimalEvidence } from './decimal-evidence'
import { GrowableFloat64, type Strided } from './growable'
import { GrowableSamples } from './growable-samples'
import { isMissingMark } from './missing'
import { type DecimalMark, parseNumber } from './number'
import { MOST_EXAMPLES } from './problem-log'

/** While the decimal mark is open, `1.234` is kept as 1.234 with the mark that may group thousands. */
const OPEN_POINT = 1
const OPEN_COMMA = 2
const THOUSAND = 1000

/** What was wrong with a column's cells, for the report. */
export interface CellFaults {
  empty: number
  marked: number
  unreadable: number
  /** First cell that was empty. */
  emptyLine: number | null
  /** First cell that held something, yet no number. */
  faultLine: number | null
  faultText: string | null
  /** The first cells that held no number, and the first lines of empty ones. */
  readonly examples: ProblemExample[]
  readonly emptyLines: number[]
}

/** One column's numbers as logged, NaN where missing; grows row by row. */
export class ValueColumn {
  readonly faults: CellFaults = {
    empty: 0,
    marked: 0,
    unreadable: 0,
    emptyLine: null,
    faultLine: null,
    faultText: null,
    examples: [],
    emptyLines: [],
  }
  /** Evidence for the thousands reading while open: unmarked whole numbers under and over 1000. */
  openPoints = 0
  openCommas = 0
  /** The first cell that reads two ways. */
  openText: string | null = null
  unmarkedBelow = 0
  unmarkedAbove = 0
  private readonly values = new GrowableSamples()
  private open: GrowableFloat64 | null = null
  private pendingFlag = 0

  constructor(
    private mark: DecimalMark | null,
    private readonly cellUnit: string | null,
    private readonly isSwitch: boolean,
  ) {
    if (mark === null) this.open = new GrowableFloat64()
  }

  get openMarked(): number {
    return this.openPoints + this.openCommas
  }

  /** Reads a cell, counting its fault; nothing is stored until `keep`. */
  read(raw: string, line: number): number {
    const mark = this.mark
    if (mark !== null) {
      const value = parseNumber(raw, mark)
      if (!Number.isNaN(value)) return value
    }
    return this.readSlow(raw.trim(), line)
  }

  private readSlow(cell: string, line: number): number {
    const bare =
      this.cellUnit !== null && cell.endsWith(this.cellUnit)
        ? cell.slice(0, -this.cellUnit.length).trim()
        : cell
    const value = this.mark === null ? this.readOpen(bare) : parseNumber(bare, this.mark)
    if (!Number.isNaN(value)) return value
    if (this.isSwitch) {
      const state = readSwitch(cell)
      if (!Number.isNaN(state)) return state
    }
    this.countFault(cell, line)
    return Number.NaN
  }

  private readOpen(cell: string): number {
    const evidence = decimalEvidence(cell)
    this.pendingFlag = 0
    if (evidence === 'either-point') this.pendingFlag = OPEN_POINT
    if (evidence === 'either-comma') this.pendingFlag = OPEN_COMMA
    const value = parseNumber(cell, evidence === 'either-comma' ? ',' : '.')
    if (this.pendingFlag !== 0) this.openText ??= cell
    if (this.pendingFlag === OPEN_POINT) this.openPoints++
    else if (this.pendingFlag === OPEN_COMMA) this.openCommas++
    else if (Math.abs(value) >= THOUSAND) this.unmarkedAbove++
    else if (!Number.isNaN(value)) this.unmarkedBelow++
    return value
  }

  private countFault(cell: string, line: number): void {
    if (cell === '') {
      this.countEmpty(line)
      return
    }
    const faults = this.faults
    if (isMissingMark(cell)) faults.marked++
    else faults.unreadable++
    faults.faultLine ??= line
    faults.faultText ??= cell.slice(0, 40)
    if (faults.examples.length < MOST_EXAMPLES) faults.examples.push({ line, cell })
  }

  /** As `read` of an empty cell. */
  countEmpty(line: number): void {
    this.faults.empty++
    this.faults.emptyLine ??= line
    if (this.faults.emptyLines.length < MOST_EXAMPLES) this.faults.emptyLines.push(line)
  }

  keep(value: number): void {
    this.values.push(value)
    if (this.open !== null) this.open.push(this.pendingFlag)
    this.pendingFlag = 0
  }

  /** As `read` and `keep` of `count` plain numbers; while the mark is open, of numbers without one. */
  keepPlain(numbers: Strided, count: number): void {
    if (this.mark === null) {
      for (let i = 0, at = numbers.first; i < count; i++, at += numbers.stride) {
        if (Math.abs(numbers.values[at]) >= THOUSAND) this.unmarkedAbove++
        else this.unmarkedBelow++
      }
    }
    this.values.pushEvery(numbers, count)
    if (this.open !== null) for (let i = 0; i < count; i++) this.open.push(0)
  }

  /** The file's mark is known: cells that grouped thousands with the other one get their thousands. */
  settle(mark: DecimalMark): void {
    // What a rejected row left behind belongs to no other.
    this.pendingFlag = 0
    this.mark = mark
  }

  take(): Float64Array | CodedSamples {
    const taken = this.values.take()
    if (this.open !== null && this.mark !== null && this.openMarked > 0) {
      const values = inFull(taken)
      const grouped = this.mark === '.' ? OPEN_COMMA : OPEN_POINT
      const flags = this.open.take()
      for (let i = 0; i < flags.length; i++) if (flags[i] === grouped) values[i] *= THOUSAND
      return values
    }
    return taken
  }
}
