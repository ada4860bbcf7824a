import type { Ref } from 'react'
import { count } from '@/app/_ui/format'
import type { Column } from './column'

/** What a row says of itself where only rows in view are in the page. */
export interface MeasuredRow {
  readonly ref?: Ref<HTMLTableRowElement>
  readonly 'data-index'?: number
}

/** The head of a group: its name, how many rows it holds, and what stands for all of them. */
export function GroupRow<Row>({
  name,
  rows,
  columns,
  rowIndex,
  measure,
}: {
  name: string
  rows: readonly Row[]
  columns: readonly Column<Row>[]
  rowIndex: number
  measure: MeasuredRow
}) {
  return (
    <tr className="group" aria-rowindex={rowIndex} {...measure}>
      {columns.map((column, nth) =>
        nth === 0 ? (
          <th scope="row" key={column.id}>
            {name} <span className="soft small">({count(rows.length)})</span>
          </th>
        ) : (
          <td key={column.id} className={column.numeric ? 'num' : undefined}>
            {column.total?.(rows)}
          </td>
        ),
      )}
    </tr>
  )
}
