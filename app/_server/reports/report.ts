import type { Estimate } from '@/lib/contract/estimate'

/** A cell: words, a number in the column's unit, a figure with its interval, or nothing known. */
export type Cell = string | number | Estimate | null

export interface ReportColumn {
  readonly header: string
  /** Unit of its numbers; text columns have none. */
  readonly unit?: string
  /** Cells are figures with interval and basis. */
  readonly isEstimate?: boolean
  /** Cells are numbers. */
  readonly isNumber?: boolean
  /** Cells are whole numbers. */
  readonly isCount?: boolean
}

/** A table of a report: the same numbers on paper, in CSV and in a spreadsheet. */
export interface ReportTable {
  /** Its name in an address and on a sheet. */
  readonly id: string
  readonly title: string
  readonly columns: readonly ReportColumn[]
  readonly rows: readonly (readonly Cell[])[]
  /** Sums come last. */
  readonly totalRows?: number
}

export interface ReportBar {
  readonly name: string
  readonly parts: readonly {
    readonly key: 'idle' | 'overRelief' | 'unloading' | 'intoSystem' | 'metering' | 'work' | 'unaccounted'
    readonly share: number
  }[]
}

export interface ReportSection {
  readonly id: string
  readonly title: string
  readonly paragraphs?: readonly string[]
  readonly facts?: readonly (readonly [name: string, value: string])[]
  readonly bars?: readonly ReportBar[]
  readonly tables?: readonly ReportTable[]
  readonly list?: readonly string[]
}

/** A report as data; pages, PDF and files are made of it. */
export interface Report {
  readonly kind: 'month' | 'machine'
  readonly subject: string
  readonly title: string
  readonly subtitle: string
  readonly sections: readonly ReportSection[]
}

/** Tables of a report in their order. */
export const tablesOf = ({ sections }: Report): ReportTable[] =>
  sections.flatMap(({ tables }) => [...(tables ?? [])])

/** File name of a report without its ending: letters, digits and hyphens. */
export const reportFileName = ({ kind, subject }: Pick<Report, 'kind' | 'subject'>) =>
  `tankward-${kind}-${subject.replace(/[^A-Za-z0-9-]+/g, '-')}`
