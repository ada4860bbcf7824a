import type { Term } from '@/lib/contract/explanation'
import type { PhaseKind } from '@/lib/contract/result'
import type { SymbolCode } from './symbols'

/** A rule with the time it covers and the mean values of what it uses, SI. */
export interface GroundRule {
  readonly symbol: SymbolCode
  readonly kinds: readonly PhaseKind[]
  readonly hours: number
  readonly terms: readonly Term[]
  readonly means: Readonly<Partial<Record<SymbolCode, number>>>
}

/** Rules are told apart by what is in them, not by how much: two witnesses are weighed anew in every step. */
export const signature = ({ symbol, terms }: Pick<GroundRule, 'symbol' | 'terms'>) =>
  [symbol, ...terms.map((term) => `${Math.sign(term.coefficient)} ${term.symbol}`)].join()

const COEFFICIENT_DIGITS = 2

/** One rule of several that are alike, means and coefficients weighed by their time. */
function together(rules: readonly GroundRule[]): GroundRule {
  const [{ symbol, terms, means }] = rules
  const hours = rules.reduce((sum, rule) => sum + rule.hours, 0)
  const mean = (of: (rule: GroundRule) => number | undefined) => {
    const known = rules.filter((rule) => of(rule) !== undefined)
    const time = known.reduce((sum, rule) => sum + rule.hours, 0)
    return known.reduce((sum, rule) => sum + (of(rule) ?? 0) * rule.hours, 0) / time
  }
  return {
    symbol,
    kinds: [...new Set(rules.flatMap(({ kinds }) => kinds))],
    hours,
    terms: terms.map((term, k) => ({
      symbol: term.symbol,
      coefficient: Number(mean((rule) => rule.terms[k].coefficient).toFixed(COEFFICIENT_DIGITS)),
    })),
    means: Object.fromEntries(
      (Object.keys(means) as SymbolCode[]).map((name) => [name, mean((rule) => rule.means[name])]),
    ),
  }
}

/** Rules kind by kind as rules of all those kinds, longest first. */
export function mergedRules(rules: readonly GroundRule[]): GroundRule[] {
  const alike = new Map<string, GroundRule[]>()
  for (const rule of rules) {
    const key = signature(rule)
    alike.set(key, [...(alike.get(key) ?? []), rule])
  }
  return [...alike.values()].map(together).sort((a, b) => b.hours - a.hours)
}
