import { type CodedSamples, inFull } from '@/lib/samples/samples'
import { GrowableFloat64, type Strided } from './growable'
import { ReadingCodes } from './reading-codes'

/** From so many numbers on room matters more than the time to look each of them up. */
const LONG = 1 << 22

/** A column's numbers appended one by one: of a long one as codes of two bytes for as long as they can be. */
export class GrowableSamples {
  private full = new GrowableFloat64()
  private codes: ReadingCodes | null = null
  private mayBeCoded = true

  push(value: number): void {
    if (this.codes?.push(value)) return
    this.leaveCodes()
    this.full.push(value)
    this.seekCodes()
  }

  pushEvery(column: Strided, count: number): void {
    const taken = this.codes?.pushEvery(column, count) ?? 0
    if (taken === count) return
    this.leaveCodes()
    this.full.pushEvery({ ...column, first: column.first + taken * column.stride }, count - taken)
    this.seekCodes()
  }

  take(): Float64Array | CodedSamples {
    return this.codes?.take() ?? this.full.take()
  }

  /** Once, where the column has become long: most columns of a long file can be coded to its end. */
  private seekCodes(): void {
    if (!this.mayBeCoded || this.full.length < LONG) return
    this.mayBeCoded = false
    const values = this.full.take()
    const codes = new ReadingCodes(values.length)
    if (codes.pushEvery({ values, first: 0, stride: 1 }, values.length) === values.length) this.codes = codes
    else this.full.pushEvery({ values, first: 0, stride: 1 }, values.length)
  }

  private leaveCodes(): void {
    if (this.codes === null) return
    const values = inFull(this.codes.take())
    this.codes = null
    this.full.pushEvery({ values, first: 0, stride: 1 }, values.length)
  }
}

/** A long column's numbers as codes where all of them can be. */
export function coded(values: Float64Array): Float64Array | CodedSamples {
  if (values.length < LONG) return values
  const codes = new ReadingCodes(values.length)
  return codes.pushEvery({ values, first: 0, stride: 1 }, values.length) === values.length
    ? codes.take()
    : values
}
