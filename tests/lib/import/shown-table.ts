import type { ReadLog } from '@/lib/import/report'

const rows: string[] = []

/** Keeps what was understood of a case, for `DIALECT_TABLE=1`. */
export function show(name: string, { trace, report }: ReadLog): void {
  const { encoding, delimiter, decimalMark, timeFormat, headerLine } = report.dialect
  const start = trace.startedAtMs === null ? 'no date' : new Date(trace.startedAtMs).toISOString()
  const notices = report.problems.map(({ code, count }) => (count > 1 ? `${code} × ${count}` : code))
  const cells = [
    name.padEnd(60),
    `${encoding.padEnd(12)} parted by ${JSON.stringify(delimiter).padEnd(4)} decimal ${decimalMark}`,
    `${headerLine === null ? 'no names' : `names in line ${headerLine}`}`.padEnd(17),
    `${timeFormat.padEnd(12)} ${start.padEnd(24)} every ${trace.sampleIntervalS} s`,
    `${report.rowsUsed} of ${report.rowsRead} rows`,
    trace.channels.map(({ quantity, location, unit }) => `${quantity} ${location} ${unit}`).join(', '),
    notices.join(', ') || 'nothing to say',
  ]
  rows.push(cells.join(' | '))
}

/** Prints the table where it is wanted. */
export function printShown(): void {
  if (process.env.DIALECT_TABLE === '1') console.log(rows.join('\n'))
}
