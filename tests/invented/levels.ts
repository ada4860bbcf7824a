import { LEVEL_NAMES, type Level, type LevelName, type ReportedLevels } from '@/lib/contract/levels'

const UNTOLD: Level = { found: null, foundFrom: 'machine', given: null, decides: false }

/** Levels of an invented log, untold but for those given. */
export const levelsWith = (told: Partial<Record<LevelName, Partial<Level>>> = {}): ReportedLevels =>
  Object.fromEntries(
    LEVEL_NAMES.map((name) => [name, { ...UNTOLD, ...told[name] }]),
  ) as unknown as ReportedLevels
