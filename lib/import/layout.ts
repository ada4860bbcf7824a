import type { Layout, LayoutKind } from '@/lib/contract/layout'
import { columnIndexes, sampleOf } from './column-facts'
import { columnKind } from './column-kind'
import type { Table } from './table'

export function kindOf(cells: readonly string[]): LayoutKind {
  const kind = columnKind(cells)
  if (kind === 'missing') return 'empty'
  if (kind === 'number') return 'number'
  return kind === 'text' || kind === 'boolean' ? 'word' : 'time'
}

/** The shape that a table shows. */
export function layoutOf(table: Table): Layout {
  const { delimiter, headers } = table
  return {
    delimiter,
    header: table.headerIndex === null ? null : headers.map(({ column }) => column),
    units: headers.map(({ unitText }) => unitText),
    kinds: columnIndexes(table).map((index) => kindOf(sampleOf(table, index))),
  }
}
