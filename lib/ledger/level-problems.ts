import { LEVEL_NAMES, type ReportedLevels } from '@/lib/contract/levels'
import type { Problem } from '@/lib/contract/result'

/** Levels given in the machine file that cannot be right in this log: a pressure above that of the dead-headed pump. */
export function levelProblems(levels: ReportedLevels): Problem[] {
  const highest = levels.deadHeadBar.given ?? levels.deadHeadBar.found
  if (highest === null) return []
  return LEVEL_NAMES.flatMap((name) => {
    const { given, decides } = levels[name]
    if (!name.endsWith('Bar') || !decides || given === null || given <= highest) return []
    const values = { level: name, given, deadHeadBar: highest }
    return [{ code: 'level-above-dead-head', line: null, column: null, count: 1, values }]
  })
}
