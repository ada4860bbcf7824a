import { NO_DATA, number, percent } from '../format'
import { SETTING_NAMES } from '../labels'
import { numberOf } from '../setup/typed-number'
import type { Option } from './option-groups'

const PER_CENT = 100
/** An arrow key moves a slider without steps of its own by this part of its range. */
const STEPS = 100

export interface Range {
  readonly low: number
  readonly high: number
}

/** A setting as people read and type it: shares in percent, everything else as it is. */
export interface SettingWords {
  readonly name: string
  readonly unit: string
  /** What a value of the result is multiplied with to be shown. */
  readonly scale: number
}

export function settingWords(setting: string): SettingWords {
  const [name, unit] = SETTING_NAMES[setting] ?? [setting, '']
  return { name, unit, scale: unit === '%' ? PER_CENT : 1 }
}

/** A setting with its unit. */
export function settingText(setting: string, value: Option['settings'][string]): string {
  if (value === null) return NO_DATA
  if (typeof value === 'string') return value
  const { unit } = settingWords(setting)
  return unit === '%' ? percent(value) : `${number(value)} ${unit}`.trim()
}

/** A value as it stands in an entry: three digits, without its unit. */
export const entryText = (setting: string, value: number): string =>
  String(Number((value * settingWords(setting).scale).toPrecision(3)))

/** The round step, 1, 2 or 5 of some decade, that a slider rounds to: never more than a key moves it by. */
export function sliderStep({ low, high }: Range): number {
  const byKey = (high - low) / STEPS
  const decade = 10 ** Math.floor(Math.log10(byKey) + 1e-9)
  return decade * ([5, 2].find((one) => one * decade <= byKey * (1 + 1e-9)) ?? 1)
}

/** The round value nearest to where a slider stands, within the range. */
export function slidTo(value: number, range: Range): number {
  const step = sliderStep(range)
  const rounded = Number((Math.round(value / step) * step).toPrecision(12))
  return Math.min(range.high, Math.max(range.low, rounded))
}

/** What was typed as a value of the result, or what is wrong with it in words. */
export function typedSetting(
  setting: string,
  text: string,
  { low, high }: Range,
): { value: number } | { error: string } {
  const typed = numberOf(text)
  const { unit, scale } = settingWords(setting)
  if (typeof typed !== 'number') return { error: 'Enter a number.' }
  // The ends are shown with three digits: whoever types them means them.
  for (const end of [low, high])
    if (entryText(setting, end) === entryText(setting, typed / scale)) return { value: end }
  const value = typed / scale
  if (value >= low && value <= high) return { value }
  return {
    error: `From ${entryText(setting, low)} to ${entryText(setting, high)} ${unit}.`.replace(' .', '.'),
  }
}
