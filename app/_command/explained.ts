import { describeExplanation } from '@/app/_words/describe-explanation'
import type { Analysis } from '@/lib/contract/result'
import { TankwardError } from '@/lib/errors'
import { explain, figuresOf } from '@/lib/explain/explain'
import type { Grounds } from '@/lib/explain/grounds'

/**
 * What `--explain` prints: one explanation, or all of them by figure for `all`.
 * @throws TankwardError `unknown-figure`
 */
export function explained(figure: string, analysis: Analysis, grounds: Grounds) {
  const one = (path: string) => {
    const told = explain(path, analysis, grounds)
    if (!told) {
      throw new TankwardError('unknown-figure', { figure, known: figuresOf(analysis, grounds).join(', ') })
    }
    return describeExplanation(told)
  }
  if (figure !== 'all') return one(figure)
  return Object.fromEntries(figuresOf(analysis, grounds).map((path) => [path, one(path)]))
}
