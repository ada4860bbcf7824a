import { columnIndexes, sampleOf } from './column-facts'
import { columnKind } from './column-kind'
import type { Table } from './table'

/** What stands in a column, as far as it hardly changes from file to file; `empty` fits any. */
export type LayoutKind = 'time' | 'number' | 'word' | 'empty'

/** The shape of a logger's files, by which the same set-up is known again: nothing of its maker, nothing of its values. */
export interface Layout {
  readonly delimiter: string
  /** Header cells as they stand in the file, one space for any; null where there is no header. */
  readonly header: readonly string[] | null
  /** Units as written, in the header or a row of their own. */
  readonly units: readonly (string | null)[]
  readonly kinds: readonly LayoutKind[]
}

export function kindOf(cells: readonly string[]): LayoutKind {
  const kind = columnKind(cells)
  if (kind === 'missing') return 'empty'
  if (kind === 'number') return 'number'
  return kind === 'text' || kind === 'boolean' ? 'word' : 'time'
}

export function layoutOf(table: Table): Layout {
  const { delimiter, headers } = table
  return {
    delimiter,
    header: table.headerIndex === null ? null : headers.map(({ column }) => column),
    units: headers.map(({ unitText }) => unitText),
    kinds: columnIndexes(table).map((index) => kindOf(sampleOf(table, index))),
  }
}

const same = <T>(
  a: readonly T[],
  b: readonly T[],
  fits: (one: T, other: T) => boolean = Object.is,
): boolean => a.length === b.length && a.every((one, i) => fits(one, b[i]))

/** True where two files have one shape: a column that is empty in one of them may hold anything in the other. */
export function isSameLayout(a: Layout, b: Layout): boolean {
  const sameHeader = a.header === null || b.header === null ? a.header === b.header : same(a.header, b.header)
  return (
    a.delimiter === b.delimiter &&
    sameHeader &&
    same(a.units, b.units) &&
    same(a.kinds, b.kinds, (one, other) => one === other || one === 'empty' || other === 'empty')
  )
}
