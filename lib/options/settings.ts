import type { Note } from '@/lib/contract/result'
import type { SupplyChange } from './change'
import { note, type Replayer, type Tried } from './option'

/** Settings that a person moved, by the names under which an option reports them. */
export type Given = Readonly<Record<string, number>>

/** Lowest and highest value that a setting may be moved to. */
export type Ranges = Readonly<Record<string, readonly [low: number, high: number]>>

/** Further from a range's end than this share of it is beyond it: ends are sums of readings. */
const SAME_SHARE = 1e-9

/** Why the settings that were given cannot be taken; null where all of them can. */
export function refusedSetting(given: Given, ranges: Ranges): Note | null {
  for (const [setting, value] of Object.entries(given)) {
    const range = Object.hasOwn(ranges, setting) ? ranges[setting] : null
    if (!range) return note('setting-not-movable', { setting })
    const [low, high] = range
    const slack = SAME_SHARE * Math.max(Math.abs(low), Math.abs(high))
    if (!(value >= low - slack && value <= high + slack)) {
      return note('setting-out-of-range', { setting, value, low, high })
    }
  }
  return null
}

const isSame = (a: number, b: number) => Math.abs(a - b) <= SAME_SHARE * Math.max(Math.abs(a), Math.abs(b))

/** Values shown along a setting at most. */
const MOST_SHOWN = 25

/** Some of the values, evenly spread, in rising order; the one that was chosen always among them. */
export function shownOf(values: readonly number[], chosen: number | null): number[] {
  // A value of the grid that is the chosen one but for its last digits is not shown beside it.
  const others = values.filter((value) => chosen === null || !isSame(value, chosen))
  const all = [...new Set(chosen === null ? others : [...others, chosen])].sort((a, b) => a - b)
  if (all.length <= MOST_SHOWN) return all
  const spread = Array.from(
    { length: MOST_SHOWN - 1 },
    (_, k) => all[Math.round((k * (all.length - 1)) / (MOST_SHOWN - 2))],
  )
  const shown = new Set(chosen === null ? spread : [...spread, chosen])
  return [...shown].sort((a, b) => a - b)
}

/** Values from `low` to `high` in even steps. */
export const evenly = (low: number, high: number, count: number): number[] =>
  high > low ? Array.from({ length: count }, (_, k) => low + (k * (high - low)) / (count - 1)) : [low]

/** What each value of a setting would save by the models, the option's other settings at their best. */
export const triedAlong = (
  setting: string,
  values: readonly number[],
  replayer: Replayer,
  changeTo: (value: number) => { readonly change: SupplyChange; readonly feasible: boolean },
): Tried[] =>
  values.map((value) => {
    const { change, feasible } = changeTo(value)
    return { setting, value, savedShare: savedShareOf(replayer, replayer.with(change)), feasible }
  })

export const savedShareOf = (before: { electricJ: number }, after: { electricJ: number }) =>
  before.electricJ > 0 ? 1 - after.electricJ / before.electricJ : 0
