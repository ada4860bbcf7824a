import type { Estimate } from '@/lib/contract/estimate'
import type { Cell, ReportTable } from './report'

export type FlatCell = string | number | null

const isEstimate = (cell: Cell): cell is Estimate => typeof cell === 'object' && cell !== null

/** A table for files: units in the header, a figure's value, both ends of its interval and its basis in columns of their own. */
export function flatTable({ columns, rows }: ReportTable): { header: string[]; rows: FlatCell[][] } {
  const header = columns.flatMap(({ header: name, unit, isEstimate: wide }) => {
    const named = unit ? `${name} [${unit}]` : name
    return wide ? [named, `${name}, 95 % low`, `${name}, 95 % high`, `${name}, basis`] : [named]
  })
  return {
    header,
    rows: rows.map((row) =>
      row.flatMap((cell, k): FlatCell[] => {
        if (!columns[k].isEstimate) return [isEstimate(cell) ? cell.value : cell]
        if (isEstimate(cell)) return [cell.value, cell.low, cell.high, cell.basis]
        return [cell, null, null, null]
      }),
    ),
  }
}
