import type { Option, OptionContext, OptionPlan } from './option'
import type { Given, Ranges } from './settings'

/**
 * How far each setting of an option may be moved, the others as given: what the option itself says when it refuses
 * a value that lies in no range. Settings that cannot be moved have no range, nor has any where the option is
 * refused for another reason before.
 */
export function rangesOf(
  option: Option,
  context: OptionContext,
  settings: OptionPlan['settings'],
  given: Given,
): Ranges {
  const ranges: Record<string, readonly [low: number, high: number]> = {}
  for (const setting of Object.keys(settings)) {
    const others = Object.entries(given).filter(([name]) => name !== setting)
    const { reasons } = option.plan(context, { [setting]: Number.NaN, ...Object.fromEntries(others) })
    const refusal = reasons.find(
      ({ code, values }) => code === 'setting-out-of-range' && values.setting === setting,
    )
    const { low, high } = refusal?.values ?? {}
    if (typeof low === 'number' && typeof high === 'number' && high > low) ranges[setting] = [low, high]
  }
  return ranges
}
