const BLOCK = 1 << 16
/** Most files are short. */
const FIRST_BLOCK = 1 << 10

/** One column of a table that is held row by row: `values[first]`, `values[first + stride]` … */
export interface Strided {
  readonly values: Float64Array
  readonly first: number
  readonly stride: number
}

/** Numbers appended one by one into fixed blocks, so that growing never copies what is there. */
export class GrowableFloat64 {
  private blocks: Float64Array[] = []
  private block = new Float64Array(FIRST_BLOCK)
  private used = 0
  /** Numbers in the blocks before the last. */
  private before = 0

  get length(): number {
    return this.before + this.used
  }

  push(value: number): void {
    if (this.used === this.block.length) this.startBlock()
    this.block[this.used++] = value
  }

  /** Appends `count` numbers of a column, each with `offset` added: -0 changes none, not even a -0. */
  pushEvery({ values, first, stride }: Strided, count: number, offset = -0): void {
    for (let done = 0; done < count; ) {
      if (this.used === this.block.length) this.startBlock()
      const { block, used } = this
      const until = Math.min(count - done, block.length - used)
      for (let i = 0, at = first + done * stride; i < until; i++, at += stride)
        block[used + i] = values[at] + offset
      this.used += until
      done += until
    }
  }

  private startBlock(): void {
    this.blocks.push(this.block)
    this.before += this.used
    this.block = new Float64Array(BLOCK)
    this.used = 0
  }

  /** The same numbers, to grow apart from here on. */
  copy(): GrowableFloat64 {
    const copy = new GrowableFloat64()
    copy.blocks = this.blocks.map((block) => block.slice())
    copy.block = this.block.slice()
    copy.used = this.used
    copy.before = this.before
    return copy
  }

  /** All values in one array, which threads can share; the blocks are let go. */
  take(): Float64Array {
    const all = new Float64Array(new SharedArrayBuffer(this.length * Float64Array.BYTES_PER_ELEMENT))
    let at = 0
    for (const block of this.blocks) {
      all.set(block, at)
      at += block.length
    }
    all.set(this.block.subarray(0, this.used), at)
    this.blocks = []
    this.used = 0
    this.before = 0
    return all
  }
}
