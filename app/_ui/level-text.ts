import type { SeenLevels } from '@/app/_server/views/setup-view'
import type { Level, LevelName } from '@/lib/contract/levels'
import type { ChannelDeclaration } from '@/lib/contract/machine'
import { fromSi, toSi } from '@/lib/units'
import { entered, number, percent, reading } from './format'

const PER_CENT = 100
const OF_FLOW = 'of pump flow'
/** As where a sensor's accuracy was not entered: of its largest reading, here of the level. */
const ASSUMED_SHARE = 0.01

/** 95 % limit of the pump pressure sensor at a pressure, bar. */
export function pressureLimitBar(channels: readonly ChannelDeclaration[], bar: number): number {
  const sensor = channels.find(
    ({ quantity, location }) => quantity === 'pressure' && (location ?? 'pump-outlet') === 'pump-outlet',
  )
  const accuracy = sensor?.accuracy
  if (!accuracy) return ASSUMED_SHARE * bar
  if ('percentOfReading' in accuracy) return (accuracy.percentOfReading / PER_CENT) * bar
  const limit = (accuracy.percentOfFullScale / PER_CENT) * accuracy.fullScale
  return fromSi(toSi(limit, sensor?.unit ?? 'bar'), 'bar')
}

/** What a level is counted in. */
export function levelUnit(name: LevelName): string {
  if (name.endsWith('KW')) return 'kW'
  if (name.endsWith('A')) return 'A'
  return name.endsWith('Bar') ? 'bar' : '%'
}

/** A level as found: no finer than the sensor that shows it. */
export function foundText(name: LevelName, value: number, channels: readonly ChannelDeclaration[]): string {
  const unit = levelUnit(name)
  if (unit === '%') return `${percent(value)} ${OF_FLOW}`
  const text = unit === 'bar' ? reading(value, pressureLimitBar(channels, value)) : number(value, 2)
  return `${text} ${unit}`
}

/** A level as somebody entered it. */
export function givenText(name: LevelName, value: number): string {
  const unit = levelUnit(name)
  return unit === '%' ? `${entered(value * PER_CENT)} % ${OF_FLOW}` : `${entered(value)} ${unit}`
}

/** Beside an empty entry: what a log shows by itself, in the entry's own unit. */
export function foundHint(name: LevelName, { levels, channels, fileName, isLatest }: SeenLevels): string {
  const { found, foundFrom, decides } = levels[name]
  const log = isLatest ? 'the latest log' : fileName
  if (found === null) return `No such level in ${log}.`
  const text = levelUnit(name) === '%' ? number(found, 2) : foundText(name, found, channels)
  const from = {
    log: `Found in ${log}: ${text}`,
    machine: `From the machine’s data for ${log}: ${text}`,
    usual: `Usual, for ${log} shows none near it: ${text}`,
  }[foundFrom]
  return decides ? `${from}.` : `${from}; its sensors tell otherwise.`
}

/** Where a level that nobody entered comes from. */
export const FOUND_FROM: Readonly<Record<Level['foundFrom'], string>> = {
  log: 'found in this log',
  machine: 'from the machine’s data: this log does not tell',
  usual: 'the usual value (common practice, no source): this log shows none near it',
}
