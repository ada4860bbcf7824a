import { percent } from '../format'
import type { Option } from './option-groups'
import { settingText, settingWords } from './option-setting'

export type Tried = Option['searched'][number]

/** Two savings closer together than this share of the input are as good as each other. */
export const FLAT_SHARE = 0.01

/** What was tried along one setting. */
export interface Search {
  readonly setting: string
  readonly tried: readonly Tried[]
  /** The one that saves most of those that can be done; null where none can. */
  readonly best: Tried | null
  /** Values around the best one within a point of its saving; null where none can be done. */
  readonly flat: { readonly from: number; readonly to: number } | null
}

/** A search along each setting that more than one value was tried of, in rising order. */
export function searches(searched: readonly Tried[]): Search[] {
  const names = [...new Set(searched.map(({ setting }) => setting))]
  return names.flatMap((setting): Search[] => {
    const tried = searched.filter((one) => one.setting === setting).sort((a, b) => a.value - b.value)
    if (tried.length < 2) return []
    const can = tried.filter(({ feasible }) => feasible)
    const most = Math.max(...can.map(({ savedShare }) => savedShare))
    const at = tried.findIndex(({ feasible, savedShare }) => feasible && savedShare === most)
    if (at < 0) return [{ setting, tried, best: null, flat: null }]
    const isAsGood = (one: Tried | undefined) => one?.feasible && one.savedShare >= most - FLAT_SHARE
    let [from, to] = [at, at]
    while (isAsGood(tried[from - 1])) from--
    while (isAsGood(tried[to + 1])) to++
    return [{ setting, tried, best: tried[at], flat: { from: tried[from].value, to: tried[to].value } }]
  })
}

/** How flat the best is, in a sentence. */
export function flatText({ setting, tried, best, flat }: Search): string {
  if (!best || !flat) return 'None of the values tried can be done.'
  const text = (value: number) => settingText(setting, value)
  const most = `${percent(best.savedShare, 3)} of the input`
  if (flat.from === flat.to)
    return `Most is saved at ${text(best.value)}, ${most}; the next values tried save at least one point less or cannot be done.`
  const whole = flat.from === tried[0].value && flat.to === tried[tried.length - 1].value
  const { unit } = settingWords(setting)
  const span = `${text(flat.from).replace(` ${unit}`, '')} and ${text(flat.to)}`
  return `Between ${span} the saving stays within one point of the most, ${most} at ${text(best.value)}${whole ? ': over all that was tried, this setting hardly matters' : ''}.`
}
