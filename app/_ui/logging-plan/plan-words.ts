import { ruleWritten } from '@/app/_words/describe-explanation'
import { loggingPlan as WORDS } from '@/app/_words/en/logging-plan'
import { phaseKinds, streams } from '@/app/_words/en/names'
import type { Accuracy } from '@/lib/contract/machine'
import { type DutyMix, MIXED_KINDS } from '@/lib/logging-plan/duty-mix'
import type { SensorData } from '@/lib/logging-plan/sensor-data'
import type { Narrowed, StationWorth } from '@/lib/logging-plan/station-worth'
import type { StationId } from '@/lib/logging-plan/stations'
import { number, percent, tick } from '../format'
import { OPTION_WORDS } from '../labels'

/** `± 2.6 %`, never broken between two lines. */
export const plusMinus = (share: number) => `± ${percent(share)}`.replaceAll(' ', '\u00a0')

export const sensorName = (id: StationId) => WORDS.stations[id].name

export const sensorLine = (stations: readonly StationId[]) =>
  `sensors: ${stations.map((id) => sensorName(id).toLowerCase()).join(', ')}`

/** What the machine does in the rehearsed visit, and where that is from. */
export function mixLines({ shares, origin }: DutyMix): string[] {
  const parts = MIXED_KINDS.filter((kind) => shares[kind] > 0).map(
    (kind) => `${phaseKinds[kind].toLowerCase()} ${percent(shares[kind])}`,
  )
  const from = origin === 'log' ? 'as in this machine’s logs' : 'assumed: common practice, no source'
  return [`running time: ${parts.join('; ')} (${from})`]
}

/** `± 0.5 % of 250 bar = ± 1.25 bar`. */
export function accuracyText(accuracy: Accuracy, unit: string): string {
  if ('percentOfReading' in accuracy) return `± ${tick(accuracy.percentOfReading)} % of reading`
  const { percentOfFullScale, fullScale } = accuracy
  const limit = (percentOfFullScale / 100) * fullScale
  return `± ${tick(percentOfFullScale)} % of ${tick(fullScale)} ${unit} = ± ${tick(limit)} ${unit}`
}

/** Where the sensor in use, by the machine's set-up, does not reach as far as is asked for. */
export function tooShortText({ range, accuracy, accuracyDeclared }: SensorData): string | null {
  if (!range || !accuracyDeclared || !accuracy || !('fullScale' in accuracy)) return null
  if (accuracy.fullScale >= range.least) return null
  const asked = `${number(range.least)} ${range.unit}`
  return `The sensor in the set-up ends at ${tick(accuracy.fullScale)} ${range.unit}, below the ${asked} asked for: its readings may clip.`
}

/** How the least end of a sensor's range was reached. */
export function rangeExplanation({ range, accuracyDeclared }: SensorData) {
  if (!range) return { formula: '' }
  const { input, factor, least, unit } = range
  const stated = input.stated ? '' : ' (not on the plate: stated default)'
  return {
    formula: `${tick(factor)} × ${WORDS.rangeInputs[input.code]}, up to the next usual range`,
    inputs: [
      `${WORDS.rangeInputs[input.code]} = ${number(input.value)} ${unit}${stated}`,
      `at least ${number(least)} ${unit}`,
    ],
    note: accuracyDeclared
      ? 'Accuracy as the machine’s set-up declares it for the sensor in use.'
      : 'Accuracy that can be hired (common practice, no source); what is on the certificate counts.',
  }
}

const LEAST_SHOWN = 0.0005
const MOST_NARROWED = 3
const listed = (names: readonly string[]) => names.join(', ')

/** Lines of the account that only this sensor tells, and those that it narrows most. */
function narrowedLines(narrows: readonly Narrowed[]): string[] {
  const told = narrows.filter((one) => one.without === null && one.withIt > LEAST_SHOWN)
  const narrower = narrows.flatMap(({ stream, withIt, without }) =>
    without === null ? [] : [`${streams[stream].toLowerCase()} ${plusMinus(without)} → ${plusMinus(withIt)}`],
  )
  return [
    ...(told.length
      ? [
          `Determines ${listed(told.map(({ stream }) => streams[stream].toLowerCase()))}: not told without it.`,
        ]
      : []),
    ...(narrower.length
      ? [`Narrows, in shares of the input: ${narrower.slice(0, MOST_NARROWED).join('; ')}.`]
      : []),
  ]
}

/** Why a sensor is worth its place, by the engine's own account with and without it; empty where it adds nothing. */
export function reasonLines(id: StationId, worth: StationWorth | null): string[] {
  if (id === 'pressure:pump-outlet') return ['Without it no account can be had.']
  if (!worth) return []
  const mistold = worth.mistold.map(
    ({ kind, as, timeShare }) =>
      `Without it ${percent(timeShare)} of the running time would pass for “${phaseKinds[as].toLowerCase()}” and is “${phaseKinds[kind].toLowerCase()}”.`,
  )
  const unjudged = worth.unjudged.map((option) => OPTION_WORDS[option].title.toLowerCase())
  return [
    ...narrowedLines(worth.narrows),
    ...mistold,
    ...(unjudged.length ? [`Cannot be judged without it: ${listed(unjudged)}.`] : []),
  ]
}

/** Rules that differ with and without a sensor. */
export const ruleLines = (worth: StationWorth) => ({
  withIt: [...new Set(worth.rulesWith.map((rule) => ruleWritten(rule)))],
  without: [...new Set(worth.rulesWithout.map((rule) => ruleWritten(rule)))],
})

/** Half-width of the waste over it, or that it cannot be told. */
export const halfText = (half: number | null) => (half === null ? 'not told' : plusMinus(half))
