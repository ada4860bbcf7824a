import type { IntervalPart, Remedy } from '@/lib/contract/explanation'
import type { Grounds } from './grounds'

/** What would narrow an interval: a sensor, an entry, a longer log. */
export const REMEDIES = [
  'better-sensor',
  'declare-accuracy',
  'fit-pump-flow',
  'fit-power-meter',
  'fit-relief-return-flow',
  'fit-load-pressure',
  'enter-no-load-current',
  'motor-data-sheet',
  'pump-data-sheet',
  'log-varied-flows',
  'log-faster',
  'log-more-cycles',
  'confirm-planned-hours',
  'measure-after',
  'enter-quote',
  'firm-price',
  'enter-upkeep',
  'check-valve',
  'meter-auxiliaries',
] as const
export type RemedyCode = (typeof REMEDIES)[number]

const BY_SOURCE: Readonly<Record<string, RemedyCode>> = {
  edges: 'log-faster',
  'to-and-fro': 'log-faster',
  'cycle-spread': 'log-more-cycles',
  'few-cycles': 'log-more-cycles',
  'planned-hours': 'confirm-planned-hours',
  replay: 'measure-after',
  'option-model': 'measure-after',
  investment: 'enter-quote',
  'energy-price': 'firm-price',
  maintenance: 'enter-upkeep',
  finding: 'check-valve',
  auxiliaries: 'meter-auxiliaries',
  'hold-or-wait': 'fit-load-pressure',
  'short-idles': 'fit-load-pressure',
  'load-or-early-relief': 'fit-relief-return-flow',
  'worn-pump-or-feed': 'fit-pump-flow',
}
const OF_MOTOR: readonly string[] = ['noLoadLossShare', 'form', 'voltage', 'ratedLoss', 'noLoadCurrent']
const OF_PUMP: readonly string[] = ['displacement', 'leakage', 'lossTorque', 'constantShare', 'pump-fit']
const OF_RELIEF: readonly string[] = ['reliefLeak', 'reliefSetting', 'reliefSpan', 'relief-line']

function remedyOf(source: string, { sensors, models }: Grounds): RemedyCode | null {
  const fitted = (role: string) => sensors.some((sensor) => sensor.role === role)
  const sensor = sensors.find(({ offsetOf }) => offsetOf === source)
  if (sensor) return sensor.declared ? 'better-sensor' : 'declare-accuracy'
  if (OF_RELIEF.includes(source)) return fitted('returnFlow') ? 'log-varied-flows' : 'fit-relief-return-flow'
  if (
    source === 'noLoadCurrent' &&
    models.some((one) => one.parameter === source && one.source === 'default')
  ) {
    return 'enter-no-load-current'
  }
  if (OF_MOTOR.includes(source)) return fitted('power') ? 'motor-data-sheet' : 'fit-power-meter'
  if (OF_PUMP.includes(source)) {
    const isFlow = source === 'displacement' || source === 'leakage'
    if (isFlow) return fitted('pumpFlow') ? 'pump-data-sheet' : 'fit-pump-flow'
    return fitted('power') ? 'pump-data-sheet' : 'fit-power-meter'
  }
  if (source === 'hold-leakage') return fitted('returnFlow') ? 'fit-pump-flow' : 'fit-relief-return-flow'
  if (source === 'pump-states') {
    // What all pumps of the line give together tells which of them feed it; power tells it where the oil divides.
    if (!fitted('pumpFlow') && !(fitted('systemFlow') && fitted('returnFlow'))) return 'fit-pump-flow'
    return fitted('power') ? 'log-faster' : 'fit-power-meter'
  }
  return BY_SOURCE[source] ?? null
}

/** What would narrow an interval most: the remedy for the source that takes most of it along. */
export function narrowingOf(parts: readonly IntervalPart[], grounds: Grounds): Remedy | null {
  let best: Remedy | null = null
  for (const { source, column, goneIfKnown } of parts) {
    const code = remedyOf(source, grounds)
    const narrowerShare = 1 - Math.sqrt(1 - goneIfKnown)
    if (code && narrowerShare > (best?.narrowerShare ?? 0)) best = { code, source, column, narrowerShare }
  }
  return best
}
