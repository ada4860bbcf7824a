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
    const column = place.column ?? null
    const line = place.line ?? null
    const count = place.count ?? 1
    const key = `${code}\u0000${column ?? ''}`
    const known = this.entries.get(key)
    if (known === undefined) {
      this.entries.set(key, { code, column, line, count, values: place.values ?? {} })
      return
    }
    const earlier = line !== null && (known.line === null || line < known.line)
    this.entries.set(key, {
      ...known,
      line: earlier ? line : known.line,
      count: known.count + count,
      values: earlier ? { ...known.values, ...place.values } : { ...place.values, ...known.values },
    })
  }

  list(): Problem[] {
    return [...this.entries.values()]
  }
}
