const BLOCK = 1 << 16

/** One column of a table that is held row by row: `values[first]`, `values[first + stride]` … */
export interface Strided {
  readonly values: Float64Array
  readonly first: number
  readonly stride: number
}

/** Numbers appended one by one into fixed blocks, so that growing never copies what is there. */
export class GrowableFloat64 {
  private blocks: Float64Array[] = []
  private block = new Float64Array(BLOCK)
  private used = 0

  get length(): number {
    return this.blocks.length * BLOCK + this.used
  }

  push(value: number): void {
    if (this.used === BLOCK) this.startBlock()
    this.block[this.used++] = value
  }

  /** Appends `count` numbers of a column, each with `offset` added: -0 changes none, not even a -0. */
  pushEvery({ values, first, stride }: Strided, count: number, offset = -0): void {
    for (let done = 0; done < count; ) {
      if (this.used === BLOCK) this.startBlock()
      const { block, used } = this
      const until = Math.min(count - done, BLOCK - used)
      for (let i = 0, at = first + done * stride; i < until; i++, at += stride)
        block[used + i] = values[at] + offset
      this.used += until
      done += until
    }
  }

  private startBlock(): void {
    this.blocks.push(this.block)
    this.block = new Float64Array(BLOCK)
    this.used = 0
  }

  /** The same numbers, to grow apart from here on. */
  copy(): GrowableFloat64 {
    const copy = new GrowableFloat64()
    copy.blocks = this.blocks.map((block) => block.slice())
    copy.block = this.block.slice()
    copy.used = this.used
    return copy
  }

  /** All values in one array; the blocks are let go. */
  take(): Float64Array {
    const all = new Float64Array(this.length)
    for (let i = 0; i < this.blocks.length; i++) all.set(this.blocks[i], i * BLOCK)
    all.set(this.block.subarray(0, this.used), this.blocks.length * BLOCK)
    this.blocks = []
    this.used = 0
    return all
  }
}
