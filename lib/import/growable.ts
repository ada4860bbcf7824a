const BLOCK = 1 << 16

/** Numbers appended one by one into fixed blocks, so that growing never copies what is there. */
export class GrowableFloat64 {
  private blocks: Float64Array[] = []
  private block = new Float64Array(BLOCK)
  private used = 0

  get length(): number {
    return this.blocks.length * BLOCK + this.used
  }

  push(value: number): void {
    if (this.used === BLOCK) {
      this.blocks.push(this.block)
      this.block = new Float64Array(BLOCK)
      this.used = 0
    }
    this.block[this.used++] = value
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
