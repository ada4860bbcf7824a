import { GrowableFloat64, type Strided } from './growable'

/** Times that follow each other by the same step, to the last bit: time i is first + i · step. */
export interface EvenStamps {
  readonly first: number
  readonly step: number
  readonly length: number
}

/** Times appended one by one, in no room at all for as long as they are even: a logger's clock mostly ticks. */
export class GrowingTimes {
  private first = Number.NaN
  private step = Number.NaN
  private count = 0
  /** Null for as long as they are even. */
  private each: GrowableFloat64 | null = null

  push(value: number): void {
    if (this.each === null && this.goesOn(value)) this.count++
    else this.oneByOne().push(value)
  }

  /** Appends `count` times of a column, each with `offset` added. */
  pushEvery(column: Strided, count: number, offset = -0): void {
    let done = 0
    if (this.each === null) {
      const { values, first, stride } = column
      while (done < count && this.goesOn(values[first + done * stride] + offset)) {
        this.count++
        done++
      }
    }
    if (done === count) return
    const rest = { ...column, first: column.first + done * column.stride }
    this.oneByOne().pushEvery(rest, count - done, offset)
  }

  /** Whether the next one is where the step puts it; the first two say what the step is. */
  private goesOn(value: number): boolean {
    const { count } = this
    if (count === 0) {
      this.first = value
      return Number.isFinite(value)
    }
    if (count === 1) this.step = value - this.first
    return value === this.first + count * this.step
  }

  private oneByOne(): GrowableFloat64 {
    if (this.each !== null) return this.each
    const each = new GrowableFloat64()
    for (let i = 0; i < this.count; i++) each.push(i === 0 ? this.first : this.first + i * this.step)
    this.each = each
    return each
  }

  /** The same times, to grow apart from here on. */
  copy(): GrowingTimes {
    const copy = new GrowingTimes()
    copy.first = this.first
    copy.step = this.step
    copy.count = this.count
    copy.each = this.each?.copy() ?? null
    return copy
  }

  /** What they are, where there are two or more and all of them even. */
  get even(): EvenStamps | null {
    const { first, step, count: length } = this
    return this.each === null && length > 1 ? { first, step, length } : null
  }

  /** All of them in one array, which threads can share; nothing is kept here. */
  take(): Float64Array {
    const all = this.oneByOne().take()
    this.each = null
    this.count = 0
    return all
  }
}
