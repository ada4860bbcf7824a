import { describe, expect, it } from 'vitest'
import { KIND_TABLE_LENGTH } from '@/lib/months/kind-table'
import { packTable, unpackTables } from '@/lib/months/packed-tables'
import { seededRandom } from '@/lib/numeric/random'

const VALUES = [0, -0, Number.NaN, Number.MIN_VALUE, -1.5, Number.MAX_VALUE, 1 / 3, 1]

/** Tables of anything anywhere, among them empty ones. */
function anyTables(count: number): Float64Array[] {
  const random = seededRandom(3)
  return Array.from({ length: count }, (_, n) => {
    const choices = n % 5 === 0 ? [Number.NaN] : VALUES
    return Float64Array.from(
      { length: KIND_TABLE_LENGTH },
      () => choices[Math.floor(random() * choices.length)],
    )
  })
}

describe('packed tables', () => {
  it('give back every number to the bit, however many stand one behind the other', () => {
    const tables = anyTables(40)
    const packed = Float64Array.from(tables.flatMap((table) => [...packTable(table)]))
    // `toEqual` tells nil from minus nil and takes not-a-number for itself.
    expect([...unpackTables(packed, tables.length)]).toEqual(tables.flatMap((table) => [...table]))
    expect(packed.length).toBeLessThan(tables.length * KIND_TABLE_LENGTH)
  })

  it('of a month that holds nothing are a number a kind', () => {
    const nothing = new Float64Array(KIND_TABLE_LENGTH).fill(Number.NaN)
    expect(packTable(nothing)).toHaveLength(7)
    expect([...unpackTables(packTable(nothing), 1)]).toEqual([...nothing])
  })
})
