import type { Answers } from '@/lib/contract/reading'
import type { ProblemLog } from './problem-log'

/** Reports a person's answer that what the file itself says goes against; the file is followed. */
export function reportUnused(
  problems: ProblemLog,
  question: keyof Answers,
  answered: string | null | undefined,
  found: string | null,
): void {
  if (!answered || answered === found) return
  problems.add('answer-not-used', { values: { question, answered, found } })
}
