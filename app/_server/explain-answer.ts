import { describeExplanation } from '@/app/_words/describe-explanation'
import type { Database } from '@/db/client'
import { findWholeAnalysis } from '@/db/queries/analyses'
import { isStored, type LogRow } from '@/db/schema/logs'
import { explain, figuresOf } from '@/lib/explain/explain'
import { ApiProblem } from './api-problem'

/** Asked for in the place of a figure: all of them. */
const ALL = 'all'

/**
 * How one figure of a log was reached; without a figure the paths of all that can be explained, and for `all` every
 * explanation. From what is stored: no sample is read.
 * @throws ApiProblem `not-ready`, `not-explained`, `unknown-figure`
 */
export async function explainAnswer(db: Database, row: LogRow, figure: string | null) {
  const { id, machineId, state } = row
  const found = isStored(row) ? await findWholeAnalysis(db, { machineId, logId: id }) : null
  if (!found) throw new ApiProblem('not-ready', { id, state })
  const { analysis, grounds } = found
  if (!grounds) throw new ApiProblem('not-explained', { id })
  const one = (path: string) => {
    const told = explain(path, analysis, grounds)
    if (!told) throw new ApiProblem('unknown-figure', { id, figure: path })
    return describeExplanation(told)
  }
  if (figure && figure !== ALL) return one(figure)
  const figures = figuresOf(analysis, grounds)
  return figure === ALL ? { figures, explanations: figures.map(one) } : { figures }
}
