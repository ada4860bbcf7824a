import type { Explanation, Rule } from '@/lib/contract/explanation'
import type { Dictionary } from './dictionary'
import { en } from './en'
import { spaced } from './said'

const known = <Value>(entries: Readonly<Record<string, Value>>, code: string): Value | null =>
  Object.hasOwn(entries, code) ? entries[code] : null

/** How one flow or power is reached, as a formula: what is added before what is taken off. */
export function ruleWritten(
  { symbol, terms }: { readonly symbol: string; readonly terms: readonly Rule['terms'][number][] },
  { symbols }: Pick<Dictionary['explanations'], 'symbols'> = en.explanations,
): string {
  const written = (code: string) => known(symbols, code)?.[0] ?? code
  const plusFirst = [...terms].sort((a, b) => b.coefficient - a.coefficient)
  const sum = plusFirst.map(({ coefficient, symbol: term }, k) => {
    const size = Math.abs(coefficient)
    const sign = coefficient < 0 ? '− ' : k > 0 ? '+ ' : ''
    return `${sign}${size === 1 ? '' : `${size} · `}${written(term)}`
  })
  return `${written(symbol)} = ${sum.join(' ')}`
}

/** An explanation with its formula written out and a name beside every code: what the command prints and the HTTP API answers. */
export function describeExplanation(explanation: Explanation, words: Dictionary = en) {
  const { symbols, formulas, parts, remedies, exact, fields, settings } = words.explanations
  const nameOf = (code: string) =>
    known(symbols, code)?.[1] ??
    known(fields, code) ??
    known<string>(parts, code) ??
    known(settings, code)?.[0] ??
    spaced(code.split('.').join(' '))
  const written = (symbol: string) => known(symbols, symbol)?.[0] ?? symbol
  const used = new Set([
    ...explanation.formula.symbols,
    ...explanation.rules.flatMap((rule) => rule.terms.map(({ symbol }) => symbol)),
  ])
  return {
    ...explanation,
    formula: {
      ...explanation.formula,
      message: known<string>(formulas, explanation.formula.code) ?? words.unknown(explanation.formula.code),
    },
    legend: [...used].map((symbol) => ({ symbol, written: written(symbol), name: nameOf(symbol) })),
    rules: explanation.rules.map((rule) => ({ ...rule, message: ruleWritten(rule, words.explanations) })),
    inputs: explanation.inputs.map((one) => ({
      ...one,
      unit: one.unit || (known(settings, one.symbol)?.[1].replace('%', '1') ?? ''),
      name: nameOf(one.symbol),
    })),
    defaults: explanation.defaults.map((one) => ({ ...one, name: nameOf(one.parameter) })),
    intervalParts: explanation.intervalParts.map((one) => ({ ...one, name: nameOf(one.source) })),
    takenAsExact: explanation.takenAsExact.map((code) => ({
      code,
      message: known<string>(exact, code) ?? words.unknown(code),
    })),
    narrowing: explanation.narrowing && {
      ...explanation.narrowing,
      name: nameOf(explanation.narrowing.source),
      message:
        known<string>(remedies, explanation.narrowing.code) ?? words.unknown(explanation.narrowing.code),
    },
  }
}

/** An explanation as it is sent and shown. */
export type DescribedExplanation = ReturnType<typeof describeExplanation>
