import { estimate, number, percent, rough } from '@/app/_ui/format'
import type { Proof, Trial } from '@/lib/contract/proof'
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

/** `Proven: saved 1,240 ± 180 kWh a year of 1,400 predicted.` */
export function verdictSentence(proof: Proof): string {
  const { verdict, savedKWhPerYear: year, predictedKWhPerYear: predicted } = proof
  const title = proofWords.verdicts[verdict]
  if (!year) return `${title}.`
  const of = predicted ? ` of ${estimate(predicted)} predicted` : ''
  if (verdict === 'worse') {
    const more = { ...year, value: -year.value, low: -year.high, high: -year.low }
    const promised = predicted ? `; a saving of ${estimate(predicted, 'kWh')} was predicted` : ''
    return `${title}: ${estimate(more, 'kWh')} a year more than the baseline expects${promised}.`
  }
  const tail = verdict === 'not-proven' ? '; the interval does not exclude that nothing was saved' : ''
  return `${title}: saved ${estimate(year, 'kWh')} a year${of}${tail}.`
}

/** The same over the hours that were logged: what was measured, before any scaling. */
export function loggedSentence(proof: Proof): string {
  const { savedKWh, expectedKWh, savedShare, predictedKWh, runningHours } = proof
  if (!savedKWh || !expectedKWh) return ''
  const of = predictedKWh ? `, of ${rough(predictedKWh.value)} kWh predicted` : ''
  const share = savedShare && savedShare.value > 0 ? ` (${percent(savedShare.value)})` : ''
  return `In the ${number(runningHours)} running hours compared: ${estimate(savedKWh, 'kWh')} less than the ${rough(expectedKWh.value)} kWh that the baseline expects${share}${of}.`
}

/** `Proven: 0.20 ± 0.02 kWh a cycle less (19 %).` */
export function trialSentence(trial: Trial): string {
  const { verdict, savedKWhPerCycle: saved, savedShare } = trial
  const title = proofWords.verdicts[verdict]
  if (!saved || !savedShare) return `${title}.`
  const per = `${estimate(saved, 'kWh')} a cycle`
  if (verdict === 'worse') return `${title}: ${per} saved, so more is used than before.`
  return `${title}: ${per} saved (${percent(savedShare.value)})${verdict === 'not-proven' ? '; the interval does not exclude nil' : ''}.`
}
