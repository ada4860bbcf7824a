import type { Machine } from '@/lib/contract/machine'

type Thing = NonNullable<Machine['confirmed']>['hangsOnPressure'][number]

/** Where a person's confirmation stands in the set-up page: options link to it. */
export const CONFIRMED_ANCHOR = 'confirmed'

/** What else may hang on a pressure that is to be lowered. */
export const HANGS_WORDS: Readonly<Record<Thing, string>> = {
  'pilot-supply': 'Pilot supply of valves',
  clamps: 'Clamps',
  brakes: 'Brakes',
  accumulators: 'Accumulators',
  other: 'Something else',
}
