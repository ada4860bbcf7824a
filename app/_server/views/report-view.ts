import { describeProblem } from '@/app/_words/describe'
import type { Database } from '@/db/client'
import { listLogEvidence } from '@/db/queries/log-evidence'
import { findLog } from '@/db/queries/logs'
import { findMachine } from '@/db/queries/machines'
import { siteSettings } from '@/db/queries/sites'
import type { LogPart, LogReading } from '@/db/schema/logs'
import type { ImportReport } from '@/lib/import/report'
import { evidenceAnswer } from '../add-evidence'
import type { EvidenceAnswer } from '../evidence-shapes'

/** What became of a file when it was imported, kept with its log. */
export interface ReportView {
  readonly machineId: string
  readonly machineName: string
  readonly timeZone: string
  readonly logId: string
  readonly fileName: string
  readonly byteLength: number
  readonly sha256: string
  /** The files of a recording that came in several. */
  readonly parts: readonly LogPart[] | null
  readonly receivedAt: string
  readonly startedAt: string | null
  readonly endedAt: string | null
  readonly durationS: number | null
  readonly sampleIntervalS: number | null
  readonly reading: LogReading | null
  /** Evidence of sensors handed in after the import, in the order it came. */
  readonly handedIn: readonly EvidenceAnswer[]
  readonly report: Omit<ImportReport, 'problems'> & {
    readonly problems: readonly ReturnType<typeof describeProblem>[]
  }
}

/** The report of a stored log; null where the machine has no such one. */
export async function reportView(db: Database, machineId: string, logId: string): Promise<ReportView | null> {
  const machine = await findMachine(db, machineId)
  const row = machine && (await findLog(db, logId))
  if (!row || row.machineId !== machineId || !row.report) return null
  const { report, startedAt, endedAt } = row
  return {
    machineId,
    machineName: machine.name,
    timeZone: (await siteSettings(db, machine.siteId)).timeZone,
    logId,
    fileName: row.fileName,
    byteLength: row.byteLength,
    sha256: row.sha256,
    parts: row.parts,
    receivedAt: row.createdAt.toISOString(),
    startedAt: startedAt?.toISOString() ?? null,
    endedAt: endedAt?.toISOString() ?? null,
    durationS: row.durationS,
    sampleIntervalS: row.sampleIntervalS,
    reading: row.reading,
    handedIn: (await listLogEvidence(db, { machineId, logId })).map(evidenceAnswer),
    report: { ...report, problems: report.problems.map((problem) => describeProblem(problem)) },
  }
}
