import type { Confidence, EvidenceSource, Unused } from '@/lib/import/column-evidence'

/** What told a column's quantity, place or unit. */
export const evidenceSources: Readonly<Record<EvidenceSource, string>> = {
  declared: 'said by a person',
  'name-and-unit': 'name and unit',
  name: 'name',
  unit: 'unit alone',
  header: 'header',
  values: 'values alone',
  'only-one': 'no other possible',
}

/** How sure it is what a column holds. */
export const confidences: Readonly<Record<Confidence, string>> = {
  declared: 'confirmed',
  certain: 'certain',
  likely: 'likely',
  guessed: 'guessed',
}

/** Why a column is not used. */
export const unusedReasons: Readonly<Record<Unused, string>> = {
  time: 'the time is read from it',
  words: 'holds words',
  empty: 'holds nothing',
  'other-quantity': 'named as a limit, a total or something else that is no reading of the circuit',
  'raw-signal': 'a transmitter’s raw signal: say which readings its ends stand for',
  extra: 'a second sensor of the same place',
  'not-declared': 'its name or unit speaks of a reading, but it is not among the columns in use',
  'not-recognised': 'neither name nor unit says what it is',
}
