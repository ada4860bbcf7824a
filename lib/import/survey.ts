import type { Layout, LayoutKind } from '@/lib/contract/layout'
import type { Location, Quantity } from '@/lib/contract/machine'
import { cellUnitOf, columnIndexes, headerUnit, sampleOf } from './column-facts'
import { decimalEvidence } from './decimal-evidence'
import { importError } from './fail'
import { kindOf, layoutOf } from './layout'
import { locationOfName, normaliseName, quantityOfName } from './quantity-words'
import { findTable, type Table } from './table'
import { readLines } from './text-lines'

const EXAMPLES = 3
const LONGEST_EXAMPLE = 40

/** A column as the top of the file shows it, before anything is read as a channel. */
export interface SurveyedColumn {
  /** Place in the row, from 0. */
  readonly index: number
  /** Header cell, or `Column 3` where there is none: the name that MACHINE.json takes. */
  readonly column: string
  readonly unitText: string | null
  readonly kind: LayoutKind
  /** Cells as they stand in the file: the first, and of numbers the lowest and the highest. */
  readonly examples: readonly string[]
  /** What the name speaks of; `never` for what looks like a channel and is none (a limit, a total). */
  readonly named: Quantity | 'never' | null
  readonly namedLocation: Location | null
  /** What the unit is one of. */
  readonly unitQuantity: Quantity | null
}

/** What the top of a file shows without reading it through. */
export interface Survey {
  readonly layout: Layout
  readonly columns: readonly SurveyedColumn[]
  /** A first cell of each column that holds dates or times, to show its readings with. */
  readonly timeCells: readonly string[]
  /** A cell that reads as a number with decimals or with thousands. */
  readonly openNumber: { readonly column: string; readonly text: string } | null
}

/** A number as far as it takes to tell the higher of two: under either decimal mark the order is nearly the same. */
const roughly = (cell: string): number => Number.parseFloat(cell.replace(/^[−–]/, '-').replace(',', '.'))

function examplesOf(cells: readonly string[], kind: LayoutKind): string[] {
  const filled = cells.filter((cell) => cell !== '')
  if (kind !== 'number') return [...new Set(filled)].slice(0, EXAMPLES)
  const sorted = filled.filter((cell) => !Number.isNaN(roughly(cell))).sort((a, b) => roughly(a) - roughly(b))
  return [...new Set([filled[0], sorted[0], sorted[sorted.length - 1]])].filter((cell) => cell !== undefined)
}

function surveyColumn(table: Table, index: number): SurveyedColumn {
  const { column, name, unitText } = table.headers[index]
  const cells = sampleOf(table, index)
  const kind = kindOf(cells)
  const said = normaliseName(name)
  const named = quantityOfName(said)
  const unitQuantity = headerUnit(table, index)?.quantity ?? null
  const quantity = named === 'never' ? null : (named ?? unitQuantity)
  return {
    index,
    column,
    unitText: unitText ?? cellUnitOf(cells),
    kind,
    examples: examplesOf(cells, kind).map((cell) => cell.slice(0, LONGEST_EXAMPLE)),
    named,
    namedLocation: quantity === null ? null : locationOfName(quantity, said),
    unitQuantity,
  }
}

function openNumberOf(table: Table): Survey['openNumber'] {
  for (const row of table.sample) {
    const at = row.findIndex((cell) => decimalEvidence(cell).startsWith('either'))
    if (at >= 0) return { column: table.headers[at].column, text: row[at] }
  }
  return null
}

/**
 * Looks at the top of a file: which columns it has, what each could be, and its layout.
 * @throws TankwardError where there is no text table
 */
export async function surveyLog(source: AsyncIterable<Uint8Array>, fileName: string): Promise<Survey> {
  const { batches } = await readLines(source, fileName)
  try {
    const first = await batches.next()
    if (first.done) throw importError('file-empty', { fileName })
    const table = findTable(first.value.lines, fileName)
    const columns = columnIndexes(table).map((index) => surveyColumn(table, index))
    return {
      layout: layoutOf(table),
      columns,
      timeCells: columns.filter(({ kind }) => kind === 'time').map(({ examples }) => examples[0]),
      openNumber: openNumberOf(table),
    }
  } finally {
    await batches.return(undefined)
  }
}

/** Several files of one recording as one: their columns beside each other, their layouts as one of all. */
export function joinSurveys(surveys: readonly Survey[]): Survey {
  const [first, ...others] = surveys
  if (others.length === 0) return first
  const rest = joinSurveys(others)
  const headers = [first.layout, rest.layout].map(({ header, kinds }) => header ?? kinds.map(() => ''))
  const layout = {
    delimiter: first.layout.delimiter,
    header: headers.flat(),
    units: [...first.layout.units, ...rest.layout.units],
    kinds: [...first.layout.kinds, ...rest.layout.kinds],
  }
  const shifted = rest.columns.map((column) => ({
    ...column,
    index: column.index + first.layout.kinds.length,
  }))
  return {
    layout,
    columns: [...first.columns, ...shifted],
    timeCells: [...first.timeCells, ...rest.timeCells],
    openNumber: first.openNumber ?? rest.openNumber,
  }
}
