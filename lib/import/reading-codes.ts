import { type CodedSamples, MISSING_CODE } from '@/lib/samples/samples'
import type { Strided } from './growable'

const CODES = 1 << 16
/** No whole number is -0, nor missing. */
const MINUS_NIL = CODES - 2
const WHOLE_CODES = CODES - 2
/** The whole number of code nil: readings go far above nil and a little below. */
const LOWEST = -8192
const MOST_DECIMALS = 6

/** From so many times as many numbers the operating system gives memory only for what is written to. */
const AHEAD = 8

/** Room that threads can share. */
function roomFor(count: number): Uint16Array {
  for (let ahead = AHEAD; ahead > 2; ahead /= 2) {
    try {
      return new Uint16Array(new SharedArrayBuffer(count * ahead * Uint16Array.BYTES_PER_ELEMENT))
    } catch (error) {
      if (!(error instanceof RangeError)) throw error
    }
  }
  return new Uint16Array(new SharedArrayBuffer(count * 2 * Uint16Array.BYTES_PER_ELEMENT))
}

/**
 * A long column's numbers as they come, as codes of two bytes: loggers write whole numbers of a last decimal, and few
 * distinct ones. Each comes back to the last bit; a number that cannot is not taken.
 */
export class ReadingCodes {
  private codes: Uint16Array
  private table = new Float64Array(CODES)
  private decimals = 0
  private power = 1
  private used = 0

  /** @param count numbers that room is made for at first */
  constructor(count: number) {
    this.codes = roomFor(count)
    this.fillTable()
  }

  get length(): number {
    return this.used
  }

  /** False where the number was not taken. */
  push(value: number): boolean {
    if (this.used === this.codes.length) this.grow()
    const code = Math.round(value * this.power) - LOWEST
    if (code >= 0 && code < WHOLE_CODES && Object.is(this.table[code], value)) {
      this.codes[this.used++] = code
      return true
    }
    return this.pushOdd(value)
  }

  /**
   * Takes numbers of a column from place `done` of it on.
   * @returns the place of the first that was not taken, or `count`
   */
  pushEvery({ values, first, stride }: Strided, count: number, done = 0): number {
    let at = first + done * stride
    for (let i = done; i < count; ) {
      if (this.used === this.codes.length) this.grow()
      const { codes, table, power, used } = this
      const until = Math.min(count, i + codes.length - used)
      const begin = i
      for (; i < until; i++, at += stride) {
        const value = values[at]
        const code = Math.round(value * power) - LOWEST
        if (!(code >= 0 && code < WHOLE_CODES) || !Object.is(table[code], value)) break
        codes[used + i - begin] = code
      }
      this.used += i - begin
      if (i === until) continue
      if (!this.pushOdd(values[at])) return i
      i++
      at += stride
    }
    return count
  }

  /** All samples; nothing is kept here. */
  take(): CodedSamples {
    const codes = this.codes.subarray(0, this.used)
    const occurs = new Uint8Array(CODES)
    for (let i = 0; i < codes.length; i++) occurs[codes[i]] = 1
    this.codes = new Uint16Array(0)
    this.used = 0
    return { kind: 'coded', codes, table: this.table, occurs, length: codes.length }
  }

  private pushOdd(value: number): boolean {
    if (Number.isNaN(value)) this.codes[this.used++] = MISSING_CODE
    else if (Object.is(value, -0)) this.codes[this.used++] = MINUS_NIL
    else {
      let decimals = this.decimals + 1
      while (decimals <= MOST_DECIMALS && Math.round(value * 10 ** decimals) / 10 ** decimals !== value)
        decimals++
      const code = Math.round(value * 10 ** decimals) - LOWEST
      if (decimals > MOST_DECIMALS || !(code >= 0 && code < WHOLE_CODES) || !this.refine(decimals))
        return false
      this.codes[this.used++] = code
    }
    return true
  }

  /** Makes the numbers whole ones of a further decimal; false, and nothing done, where one would be too large. */
  private refine(decimals: number): boolean {
    const { codes, used } = this
    const finer = 10 ** (decimals - this.decimals)
    const finerCode = (code: number) => (code + LOWEST) * finer - LOWEST
    for (let i = 0; i < used; i++) {
      const code = codes[i]
      if (code < WHOLE_CODES && !(finerCode(code) >= 0 && finerCode(code) < WHOLE_CODES)) return false
    }
    for (let i = 0; i < used; i++) if (codes[i] < WHOLE_CODES) codes[i] = finerCode(codes[i])
    this.decimals = decimals
    this.power = 10 ** decimals
    this.fillTable()
    return true
  }

  private fillTable(): void {
    for (let code = 0; code < WHOLE_CODES; code++) this.table[code] = (code + LOWEST) / this.power
    this.table[MINUS_NIL] = -0
    this.table[MISSING_CODE] = Number.NaN
  }

  private grow(): void {
    const codes = roomFor(this.used)
    codes.set(this.codes)
    this.codes = codes
  }
}
