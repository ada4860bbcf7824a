import type { ProblemLog } from './problem-log'
import type { CellFaults } from './value-column'

/** Adds a column's missing and unreadable cells to the report, less those explained by a slower rate. */
export function reportCells(
  faults: CellFaults,
  explained: number,
  overflow: { count: number; line: number; mark: number } | null,
  column: string,
  problems: ProblemLog,
): void {
  const empty = Math.max(0, faults.empty - explained)
  const marked = Math.max(0, faults.marked - Math.max(0, explained - faults.empty)) + (overflow?.count ?? 0)
  const count = empty + marked + faults.unreadable
  if (count === 0) return
  const firsts = [
    { line: faults.faultLine, example: faults.faultText },
    { line: empty > 0 ? faults.emptyLine : null, example: null },
    { line: overflow?.line ?? null, example: overflow === null ? null : String(overflow.mark) },
  ].filter(({ line }) => line !== null)
  firsts.sort((a, b) => (a.line ?? 0) - (b.line ?? 0))
  // Which of the empty cells a slower rate explains is not known cell by cell.
  const empties = explained > 0 ? [] : faults.emptyLines.map((line) => ({ line, cell: null }))
  const marks = overflow === null ? [] : [{ line: overflow.line, cell: String(overflow.mark) }]
  problems.add('unreadable-cell', {
    examples: [...faults.examples, ...empties, ...marks].sort((a, b) => a.line - b.line),
    line: firsts[0]?.line ?? null,
    column,
    count,
    values: { example: firsts[0]?.example ?? null, empty, marked, unreadable: faults.unreadable },
  })
}
