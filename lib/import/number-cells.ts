import type { ChannelPlan } from './channel-plan'
import type { DecimalMark } from './number'
import { markByte, readNumber, readWrappedNumber } from './number-bytes'

const SPACE = 32
const ASCII_UNIT = /^[!-~]+$/

/** How each cell of a row writes its number: the decimal mark, and the unit that its column has behind its numbers. */
export class NumberCells {
  /** Bytes, none of which is met where a mark is open or parts the cells. */
  readonly marks: Int32Array
  private readonly units: readonly Uint8Array[]
  /** The cell of a numeric time, or -1. */
  private readonly timeCell: number

  constructor(
    roles: Int32Array,
    plans: readonly ChannelPlan[],
    private readonly delimiter: number,
  ) {
    this.marks = new Int32Array(roles.length)
    this.units = Array.from(roles, (role) => {
      const unit = plans[role]?.cellUnit ?? ''
      return new TextEncoder().encode(ASCII_UNIT.test(unit) ? unit : '')
    })
    this.timeCell = roles.indexOf(plans.length)
  }

  /** @param time where a numeric time has a mark of its own */
  settle(mark: DecimalMark | null, time: DecimalMark | null): void {
    this.marks.fill(markByte(mark, this.delimiter))
    if (this.timeCell >= 0) this.marks[this.timeCell] = markByte(time ?? mark, this.delimiter)
  }

  /** Reads a number with what may stand around it in its cell: the place behind all of it, or -1. */
  read(bytes: Uint8Array, at: number, cell: number, out: Float64Array, slot: number): number {
    const mark = this.marks[cell]
    if (this.delimiter === SPACE) return readNumber(bytes, at, mark, out, slot)
    return readWrappedNumber(bytes, at, mark, out, slot, this.units[cell])
  }
}
