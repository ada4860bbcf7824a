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
  const lines = [faults.faultLine, empty > 0 ? faults.emptyLine : null, overflow?.line ?? null]
  const known = lines.filter((line) => line !== null)
  const example = faults.faultText ?? (overflow === null ? '' : String(overflow.mark))
  problems.add('unreadable-cell', {
    line: known.length === 0 ? null : Math.min(...known),
    column,
    count,
    values: { example, empty, marked, unreadable: faults.unreadable },
  })
}
