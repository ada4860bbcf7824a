import { KIND_COUNT, KIND_TABLE_LENGTH, type KindTable, STRIDE } from './kind-table'

// Tables by kind of phase as they are stored: of what they hold more than half is nil or not known, and pages read
// thousands of them. Of each kind stands a number that says which places are not nil and, STRIDE bits above, which are
// known; behind it those that are not nil.

const isNil = (value: number) => Object.is(value, 0)

export function packTable(table: KindTable): Float64Array {
  const packed: number[] = []
  for (let kind = 0; kind < KIND_COUNT; kind++) {
    const head = packed.push(0) - 1
    for (let k = 0; k < STRIDE; k++) {
      const value = table[kind * STRIDE + k]
      if (Number.isNaN(value)) continue
      packed[head] += 1 << (STRIDE + k)
      if (isNil(value)) continue
      packed[head] += 1 << k
      packed.push(value)
    }
  }
  return Float64Array.from(packed)
}

/** Tables that were packed one behind the other, as one row of numbers. @param count of tables */
export function unpackTables(packed: Float64Array, count: number): Float64Array {
  const tables = new Float64Array(count * KIND_TABLE_LENGTH).fill(Number.NaN)
  let from = 0
  for (let at = 0; at < tables.length; at += STRIDE) {
    const head = packed[from++]
    if (head === 0) continue
    for (let k = 0; k < STRIDE; k++) {
      if (head & (1 << k)) tables[at + k] = packed[from++]
      else if (head & (1 << (STRIDE + k))) tables[at + k] = 0
    }
  }
  return tables
}
