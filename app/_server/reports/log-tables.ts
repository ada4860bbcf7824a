import { dateTime, duration, percent } from '@/app/_ui/format'
import { LOCATION_NAMES, QUANTITY_NAMES } from '@/app/_ui/labels'
import { evidenceText } from '@/app/_ui/upload/reading-lines'
import { describeProblem } from '@/app/_words/describe'
import type { AuditedLog } from '@/db/queries/views-report'
import type { LogEvidenceRow } from '@/db/schema/log-evidence'
import type { StoredChannel } from '@/db/schema/logs'
import type { ReportTable } from './report'

/** The recordings that figures stand on. */
export function logsTable(logs: readonly AuditedLog[], timeZone: string): ReportTable {
  return {
    id: 'logs',
    title: 'Logs',
    columns: [
      { header: 'Machine' },
      { header: 'File' },
      { header: 'Recorded' },
      { header: 'Length' },
      { header: 'Rows used', isCount: true },
      { header: 'Rows rejected', isCount: true },
      { header: 'Engine', isCount: true },
      { header: 'Model against log' },
    ],
    rows: logs.map((log) => [
      log.machineName,
      log.fileName,
      dateTime(log.startedAt, timeZone),
      duration(log.durationS),
      log.rowsUsed,
      log.rowsRejected,
      log.engineVersion,
      `${log.model.trusted ? 'trusted' : 'not trusted'}: bias ${percent(log.model.nmbe)}, scatter ${percent(log.model.cvRmse)}${log.model.againstMeasuredPower ? '' : ', against power from current'}`,
    ]),
  }
}

/** What a file is known again by: a table of its own, as it leaves file names no room beside other columns. */
export function checksumsTable(logs: readonly Pick<AuditedLog, 'fileName' | 'sha256'>[]): ReportTable {
  return {
    id: 'checksums',
    title: 'Files, to be known again',
    columns: [{ header: 'File' }, { header: 'SHA-256 of the file’s text' }],
    rows: logs.map(({ fileName, sha256 }) => [fileName, sha256]),
  }
}

function accuracyText({ accuracy, unit }: StoredChannel): string {
  if (!accuracy) return 'default: 1 % of full scale'
  return 'percentOfReading' in accuracy
    ? `${accuracy.percentOfReading} % of reading`
    : `${accuracy.percentOfFullScale} % of full scale, ${accuracy.fullScale} ${unit}`
}

/** Sensors of recordings: where they sat and how accurate they are taken to be; alike sensors of a machine once. */
export function sensorsTable(
  logs: readonly Pick<AuditedLog, 'machineName' | 'channels' | 'report'>[],
): ReportTable {
  const seen = new Set<string>()
  const rows = logs.flatMap(({ machineName, channels, report }) =>
    (channels ?? []).flatMap((channel) => {
      const { column, quantity, location, unit } = channel
      const evidence = report?.channels.find((declared) => declared.column === column)?.evidence
      const row = [
        machineName,
        column,
        QUANTITY_NAMES[quantity],
        LOCATION_NAMES[location],
        unit === '1' ? '' : unit,
        accuracyText(channel),
        evidenceText(evidence, unit) ?? 'none entered',
      ]
      const key = row.join('\n')
      if (seen.has(key)) return []
      seen.add(key)
      return [row]
    }),
  )
  return {
    id: 'sensors',
    title: 'Sensors',
    columns: [
      { header: 'Machine' },
      { header: 'Column of the log' },
      { header: 'Quantity' },
      { header: 'Place' },
      { header: 'Unit' },
      { header: 'Accuracy, 95 % limit' },
      { header: 'Serial number, certificate, zero' },
    ],
    rows,
  }
}

/**
 * Evidence of sensors that was handed in after the import, with who handed it in and when: beside what the logs were
 * imported with, never in its place.
 */
export function handedInTable(
  logs: readonly Pick<AuditedLog, 'id' | 'machineName' | 'fileName' | 'channels'>[],
  handedIn: readonly LogEvidenceRow[],
  timeZone: string,
): ReportTable {
  const byId = new Map(logs.map((log) => [log.id, log]))
  return {
    id: 'handed-in',
    title: 'Evidence of sensors handed in after the import',
    columns: [
      { header: 'Machine' },
      { header: 'File' },
      { header: 'Column of the log' },
      { header: 'Serial number, certificate, zero' },
      { header: 'Handed in' },
      { header: 'By' },
    ],
    rows: handedIn.flatMap(({ logId, column, evidence, author, createdAt }) => {
      const log = byId.get(logId)
      if (!log) return []
      const unit = log.channels?.find((channel) => channel.column === column)?.unit
      const words = evidenceText(evidence, unit === '1' ? '' : unit) ?? 'nothing'
      const at = dateTime(createdAt, timeZone)
      return [[log.machineName, log.fileName, column, words, at, author]]
    }),
  }
}

/** What was wrong with recordings, in words: the first of each kind by machine and column, with how many logs have it. */
export function problemsTable(
  logs: readonly Pick<AuditedLog, 'machineName' | 'fileName' | 'problems'>[],
): ReportTable {
  const found = new Map<string, { machine: string; message: string; file: string; files: Set<string> }>()
  for (const { machineName, fileName, problems } of logs)
    for (const problem of problems) {
      const key = [machineName, problem.code, problem.column ?? ''].join('\n')
      const known = found.get(key)
      if (known) known.files.add(fileName)
      else {
        const { message } = describeProblem(problem)
        found.set(key, { machine: machineName, message, file: fileName, files: new Set([fileName]) })
      }
    }
  return {
    id: 'problems',
    title: 'Data quality',
    columns: [
      { header: 'Machine' },
      { header: 'What was found' },
      { header: 'Logs', isCount: true },
      { header: 'First seen in' },
    ],
    rows: [...found.values()].map(({ machine, message, file, files }) => [
      machine,
      message,
      files.size,
      file,
    ]),
  }
}
