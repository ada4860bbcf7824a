const BLOCK = 1 << 16
/** Most files are short. */
const FIRST_BLOCK = 1 << 10

/** One column of a table that is held row by row: `values[first]`, `values[first + stride]` … */
export interface Strided {
  readonly values: Float64Array
  readonly first: number
  readonly stride: number
}

/** From so many numbers on they go into one array that is far longer … */
const LONG = 1 << 20
/** … by this much: an operating system gives memory only for what is written to. */
const AHEAD = 8

/** Room for `count` numbers that threads can share. */
const shared = (count: number) =>
  new Float64Array(new SharedArrayBuffer(count * Float64Array.BYTES_PER_ELEMENT))

/** Room for at least a few more numbers than `count`, as much ahead as can be had. */
function roomBeyond(count: number): Float64Array {
  for (let ahead = AHEAD; ahead > 2; ahead /= 2) {
    try {
      return shared(count * ahead)
    } catch (error) {
      if (!(error instanceof RangeError)) throw error
    }
  }
  return shared(count * 2)
}

/**
 * Numbers appended one by one into fixed blocks, so that growing never copies what is there; many of them into one array,
 * so that there is nothing to be copied at the end either.
 */
export class GrowableFloat64 {
  private blocks: Float64Array[] = []
  private block: Float64Array = new Float64Array(FIRST_BLOCK)
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
    const { length } = this
    if (length >= LONG) {
      const room = roomBeyond(length)
      this.moveTo(room)
      this.block = room
      this.used = length
      return
    }
    this.blocks.push(this.block)
    this.before += this.used
    this.block = new Float64Array(BLOCK)
    this.used = 0
  }

  /** Writes all numbers to the beginning of `room`, and lets the blocks go. */
  private moveTo(room: Float64Array): void {
    let at = 0
    for (const block of this.blocks) {
      room.set(block, at)
      at += block.length
    }
    room.set(this.block.subarray(0, this.used), at)
    this.blocks = []
    this.before = 0
  }

  /** The same numbers, to grow apart from here on. */
  copy(): GrowableFloat64 {
    const copy = new GrowableFloat64()
    copy.blocks = this.blocks.map((block) => block.slice())
    copy.block = this.block.slice(0, this.used)
    copy.used = this.used
    copy.before = this.before
    return copy
  }

  /** All values in one array, which threads can share; nothing is kept here. */
  take(): Float64Array {
    const { length } = this
    let all: Float64Array = this.block.subarray(0, length)
    if (!(this.block.buffer instanceof SharedArrayBuffer)) {
      all = shared(length)
      this.moveTo(all)
    }
    this.blocks = []
    this.block = new Float64Array(0)
    this.used = 0
    this.before = 0
    return all
  }
}
