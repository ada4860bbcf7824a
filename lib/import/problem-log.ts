import type { Problem } from '@/lib/contract/result'
import type { ImportProblemCode } from './codes'

type Values = Problem['values']

/** Collects problems, one entry per code and column: full count, first line, first example. */
export class ProblemLog {
  private readonly entries = new Map<string, Problem>()

  add(
    code: ImportProblemCode,
    place: { line?: number | null; column?: string | null; count?: number; values?: Values } = {},
  ): void {
    const { line = null, column = null, count = 1, values = {} } = place
    this.merge({ code, line, column, count, values })
  }

  private merge(problem: Problem): void {
    const { code, line, column, count, values } = problem
    const key = `${code}\u0000${column ?? ''}`
    const known = this.entries.get(key)
    if (known === undefined) {
      this.entries.set(key, problem)
      return
    }
    const earlier = line !== null && (known.line === null || line < known.line)
    this.entries.set(key, {
      ...known,
      line: earlier ? line : known.line,
      count: known.count + count,
      values: earlier ? { ...known.values, ...values } : { ...values, ...known.values },
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
