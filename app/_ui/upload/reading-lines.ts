import type { ChannelDeclaration, SensorEvidence } from '@/lib/contract/machine'
import type { Reading } from '@/lib/contract/reading'
import { LOCATION_NAMES, QUANTITY_NAMES } from '../labels'

export const channelText = ({ column, quantity, location, unit }: ChannelDeclaration): string =>
  `${column}: ${QUANTITY_NAMES[quantity].toLowerCase()}${location ? `, ${LOCATION_NAMES[location]}` : ''}${unit ? `, ${unit}` : ''}`

/** What is known of a sensor for an auditor, in words; null where nothing is. */
export function evidenceText(evidence: SensorEvidence | undefined, unit: string | undefined): string | null {
  if (!evidence) return null
  const { serialNumber, certificateNumber, certificateDate, zeroReading } = evidence
  const words = [
    serialNumber ? `serial number ${serialNumber}` : '',
    certificateNumber ? `certificate ${certificateNumber}` : '',
    certificateDate ? `certified on ${certificateDate}` : '',
    zeroReading === undefined ? '' : `shows ${zeroReading}${unit ? ` ${unit}` : ''} at rest`,
  ].filter(Boolean)
  return words.length > 0 ? words.join(', ') : null
}

/** What a person said of a file or a layout, line by line. */
export function readingLines(reading: Reading): string[] {
  const { dayOrder, decimalMark, timeUnit, timeZone, startedAt, clockShifts, channels } = reading
  return [
    dayOrder ? `dates have the ${dayOrder === 'day-first' ? 'day' : 'month'} first` : '',
    decimalMark ? `the decimal mark is a ${decimalMark === ',' ? 'comma' : 'point'}` : '',
    timeUnit ? `the time counts in ${timeUnit}` : '',
    timeZone ? `the logger’s clock is ${timeZone}` : '',
    startedAt === null ? 'when it started is not known' : '',
    startedAt ? `it started on ${startedAt.replace('T', ', ')}` : '',
    ...Object.entries(clockShifts ?? {}).map(([file, shiftS]) =>
      shiftS === 0 ? `${file} stands as stamped` : `the times of ${file} are shifted by ${shiftS} s`,
    ),
    ...(channels ?? []).map(channelText),
  ].filter(Boolean)
}
