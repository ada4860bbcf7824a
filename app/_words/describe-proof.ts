import type { ProofWarning } from '@/lib/proof/warning'
import { PA_PER_BAR } from '@/lib/units'
import type { Dictionary } from './dictionary'
import { en } from './en'
import { proofWords } from './en/proof'
import type { Values } from './said'
import { sentenceOf } from './sentence'

export interface Worded {
  readonly code: string
  readonly message: string
}

/** Pressures in bar and the load's range with it; other values as they are. */
function shownValues({ code, values }: { code: string; values: Values }): Values {
  const bar = (value: Values[string]) => (typeof value === 'number' ? value / PA_PER_BAR : value)
  if (code === 'setting-moved') return { before: bar(values.beforePa), after: bar(values.afterPa) }
  if (values.variable !== 'load-pressure' || code === 'weak-variable') return values
  const scaled = Object.entries(values).map(([name, value]) => [
    name,
    name === 'share' || name === 'variable' ? value : bar(value),
  ])
  return Object.fromEntries(scaled)
}

const UNITS: Readonly<Record<string, string>> = {
  'load-pressure': 'bar',
  'oil-temperature': '°C',
  'idle-time': 's',
  'working-time': 's',
}

/** Warnings in sentences, each with what it carries. */
export function describeWarnings(
  warnings: readonly { code: string; values: Values }[] | readonly ProofWarning[],
  words: Dictionary = en,
): Worded[] {
  return warnings.map((one) => ({
    code: one.code,
    message: sentenceOf(one.code, shownValues(one), proofWords.warnings, words),
  }))
}

/** Unit of an adjustment as it is shown. */
export const adjustmentUnit = (name: string) => UNITS[name] ?? ''
