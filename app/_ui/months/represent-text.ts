import { REPRESENTATIVE_WORDS } from '@/app/_words/en/months'
import type { RepresentativeNote } from '@/lib/months/representative'
import { count, number } from '../format'

const WEEKDAYS = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun']

const FEW_DAYS_MANY =
  '{days} days logged: too few to tell well how days differ, so the scaled part has a wide interval'

/** What a month's logs do not stand for, as a clause. */
export function representText({ code, values }: RepresentativeNote): string {
  const text = code === 'few-days' && Number(values.days) > 1 ? FEW_DAYS_MANY : REPRESENTATIVE_WORDS[code]
  return text.replace(/\{(\w+)\}/g, (_, name: string) => {
    const value = values[name]
    if (name === 'weekdays')
      return String(value)
        .split(' ')
        .map((day) => WEEKDAYS[Number(day) - 1])
        .join(', ')
    if (typeof value === 'string') return value
    return name === 'days' ? count(value) : number(value)
  })
}
