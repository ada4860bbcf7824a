import type { ReactNode } from 'react'

/** A column as pages describe it; the table library stays in data-table.tsx. */
export interface Column<Row> {
  readonly id: string
  readonly header: string
  readonly unit?: string
  /** What is sorted and searched by; null sorts last in either direction. */
  readonly value: (row: Row) => string | number | null
  readonly cell: (row: Row) => ReactNode
  readonly numeric?: boolean
  /** Offers a choice of the values present. */
  readonly choice?: boolean
  /** Rows can be grouped by it. */
  readonly group?: boolean
  /** What stands in this column for a whole group of rows. */
  readonly total?: (rows: readonly Row[]) => ReactNode
  /** Left out until asked for. */
  readonly hidden?: boolean
  readonly help?: string
}
