import { estimate, number, percent, rough } from '@/app/_ui/format'
import { proofWords } from '@/app/_words/en/proof'
import type { Proof, Trial } from '@/lib/contract/proof'

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
