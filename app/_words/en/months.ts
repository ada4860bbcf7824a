import type { REPRESENTATIVE_CODES } from '@/lib/months/representative'

type Code = (typeof REPRESENTATIVE_CODES)[number]

/** What a month's logs do not stand for; `{name}` stands for the value of that name. */
export const REPRESENTATIVE_WORDS: Readonly<Record<Code, string>> = {
  'few-days': '{days} day logged: how days differ is not known, so the scaled part is a guess within ± 30 %',
  'weekday-not-logged': 'planned, but not logged: {weekdays}',
  'shift-not-logged': 'shift {shift} is planned for {plannedHours} h and was not logged',
  'outside-shifts': '{hours} h were logged outside of all shifts',
  'no-calendar': 'no shift calendar says when it is meant to run',
  'recorded-twice': '{hours} h were recorded twice and count once: the later import counts',
}
