import type { Problem, ProblemExample } from '@/lib/contract/result'
import type { ImportProblemCode } from './codes'

type Values = Problem['values']

/** So many of each kind are kept as examples. */
export const MOST_EXAMPLES = 5
const LONGEST_CELL = 60

/** What is said of one file's clock is said of no other's. */
const OF_ONE_FILE: ReadonlySet<string> = new Set<ImportProblemCode>([
  'assumed-clock-shift',
  'clock-shifted',
  'clocks-not-compared',
  'rows-outside-other-logger',
])

/** The first of two lists of examples, in the order of their lines. */
function firstOf(a: readonly ProblemExample[], b: readonly ProblemExample[]): ProblemExample[] {
  return [...a, ...b].sort((one, other) => one.line - other.line).slice(0, MOST_EXAMPLES)
}

/** Collects problems, one entry per code and column: full count, first line, first examples. */
export class ProblemLog {
  private readonly entries = new Map<string, Problem>()

  add(
    code: ImportProblemCode,
    place: {
      line?: number | null
      column?: string | null
      count?: number
      values?: Values
      /** The cells that it is about, in the order of their lines. */
      examples?: readonly ProblemExample[]
    } = {},
  ): void {
    const { line = null, column = null, count = 1, values = {}, examples = [] } = place
    const some = examples
      .slice(0, MOST_EXAMPLES)
      .map(({ line: at, cell }) => ({ line: at, cell: cell?.slice(0, LONGEST_CELL) ?? null }))
    this.merge({ code, line, column, count, values, ...(some.length > 0 ? { examples: some } : {}) })
  }

  private merge(problem: Problem): void {
    const { code, line, column, count, values } = problem
    const key = `${code}\u0000${column ?? ''}\u0000${OF_ONE_FILE.has(code) ? values.file : ''}`
    const known = this.entries.get(key)
    if (known === undefined) {
      this.entries.set(key, problem)
      return
    }
    const { examples = [] } = problem
    const isFull =
      (known.examples?.length ?? 0) >= MOST_EXAMPLES && line !== null && line >= (known.line ?? 0)
    const all = isFull ? (known.examples ?? []) : firstOf(known.examples ?? [], examples)
    const earlier = line !== null && (known.line === null || line < known.line)
    this.entries.set(key, {
      ...known,
      line: earlier ? line : known.line,
      count: known.count + count,
      values: earlier ? { ...known.values, ...values } : { ...values, ...known.values },
      ...(all.length > 0 ? { examples: all } : {}),
    })
  }

  /** Adds a finished problem of another file. */
  addKnown(problem: Problem): void {
    this.merge(problem)
  }

  list(): Problem[] {
    return [...this.entries.values()]
  }
}
