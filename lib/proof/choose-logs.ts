import type { ProofSetup } from '@/lib/contract/proof'
import type { Side } from './units'

/** A log's days of the calendar at the site, `YYYY-MM-DD`: they sort as text does. */
export interface LogDays {
  readonly logId: string
  readonly startDay: string
  readonly endDay: string
}

/**
 * On which side of a change a log lies, null where on none. Days that a person set count; else all logs that ended before
 * the day of installation are the baseline, those that began after it are compared, and that day itself is neither.
 */
export function sideOfLog(
  { logId, startDay, endDay }: LogDays,
  { baseline, comparison, leftOut }: Pick<ProofSetup, 'baseline' | 'comparison' | 'leftOut'>,
  installedOn: string | null,
): Side | null {
  if (leftOut.includes(logId)) return null
  const isOld = baseline.to !== null ? endDay <= baseline.to : installedOn === null || endDay < installedOn
  if (isOld && (baseline.from === null || startDay >= baseline.from)) return 'baseline'
  const isNew =
    comparison.from !== null ? startDay >= comparison.from : installedOn !== null && startDay > installedOn
  if (isNew && (comparison.to === null || endDay <= comparison.to)) return 'comparison'
  return null
}
