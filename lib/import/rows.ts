/** Which line each kept row came from: stored only where the distance between the two changes. */
export class RowLines {
  private readonly rows: number[] = []
  private readonly shifts: number[] = []

  note(row: number, line: number): void {
    const shift = line - row
    if (this.shifts.at(-1) === shift) return
    this.rows.push(row)
    this.shifts.push(shift)
  }

  /** 1-based line in the file of a kept row. */
  lineOf(row: number): number {
    let low = 0
    let high = this.rows.length - 1
    while (low < high) {
      const middle = (low + high + 1) >> 1
      if (this.rows[middle] <= row) low = middle
      else high = middle - 1
    }
    return row + (this.shifts[low] ?? 0)
  }
}

/** 0, 1, 2 … count − 1. */
export function inSequence(count: number): Uint32Array<ArrayBuffer> {
  const rows = new Uint32Array(count)
  for (let i = 0; i < count; i++) rows[i] = i
  return rows
}

/** The values of `source` at `indexes`, in that order. */
export function pick(source: Float64Array, indexes: Uint32Array): Float64Array {
  const picked = new Float64Array(indexes.length)
  for (let i = 0; i < indexes.length; i++) picked[i] = source[indexes[i]]
  return picked
}
