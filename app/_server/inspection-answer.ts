import type { Inspected } from '@/app/_jobs/task'
import { describeProblem } from '@/app/_words/describe'
import type { LogRow } from '@/db/schema/logs'
import type { Inspection } from './shapes'

const MS_PER_S = 1000

/** What was understood of a file, with a sentence beside every problem. */
export function inspectionAnswer(fileName: string, inspected: Inspected, same: LogRow | null): Inspection {
  const { span, report, preview } = inspected
  const { startedAtMs, durationS, sampleIntervalS, sampleCount } = span
  const iso = (ms: number) => new Date(ms).toISOString()
  return {
    fileName,
    startedAt: startedAtMs === null ? null : iso(startedAtMs),
    endedAt: startedAtMs === null ? null : iso(startedAtMs + durationS * MS_PER_S),
    durationS,
    sampleIntervalS,
    sampleCount,
    sameAs: same?.id ?? null,
    report: {
      ...report,
      channels: [...report.channels],
      unusedColumns: [...report.unusedColumns],
      gaps: [...report.gaps],
      problems: report.problems.map((problem) => describeProblem(problem)),
    },
    preview,
  }
}
