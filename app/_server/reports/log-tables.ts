import { dateTime, duration, percent } from '@/app/_ui/format'
import { LOCATION_NAMES, QUANTITY_NAMES } from '@/app/_ui/labels'
import { describeProblem } from '@/app/_words/describe'
import type { AuditedLog } from '@/db/queries/views-report'
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
      { header: 'Rows used', isNumber: true },
      { header: 'Rows rejected', isNumber: true },
      { header: 'Engine', isNumber: true },
      { header: 'Model against log' },
      { header: 'SHA-256 of the file’s text' },
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
      log.sha256,
    ]),
  }
}

function accuracyText({ accuracy, unit }: StoredChannel): string {
  if (!accuracy) return 'default: 1 % of full scale'
  return 'percentOfReading' in accuracy
    ? `${accuracy.percentOfReading} % of reading`
    : `${accuracy.percentOfFullScale} % of full scale, ${accuracy.fullScale} ${unit}`
}

/** Sensors of recordings: where they sat and how accurate they are taken to be; alike sensors of a machine once. */
export function sensorsTable(logs: readonly Pick<AuditedLog, 'machineName' | 'channels'>[]): ReportTable {
  const seen = new Set<string>()
  const rows = logs.flatMap(({ machineName, channels }) =>
    (channels ?? []).flatMap((channel) => {
      const { column, quantity, location, unit } = channel
      const row = [
        machineName,
        column,
        QUANTITY_NAMES[quantity],
        LOCATION_NAMES[location],
        unit === '1' ? '' : unit,
        accuracyText(channel),
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
    ],
    rows,
  }
}

/** What was wrong with recordings, in words. */
export function problemsTable(
  logs: readonly Pick<AuditedLog, 'machineName' | 'fileName' | 'problems'>[],
): ReportTable {
  return {
    id: 'problems',
    title: 'Data quality',
    columns: [{ header: 'Machine' }, { header: 'File' }, { header: 'What was found' }],
    rows: logs.flatMap(({ machineName, fileName, problems }) =>
      problems.map((problem) => [machineName, fileName, describeProblem(problem).message]),
    ),
  }
}
