import { phaseKinds } from '@/app/_words/en/names'
import type { PhaseKind } from '@/lib/contract/result'
import { estimateParts, rough, tick } from '../format'

const PERCENT = 100

/** Shares are shown in per cent; everything else in its own unit. */
const isShare = (unit: string) => unit === '1' || unit === '1/yr'

export const scaleOf = (unit: string) => (isShare(unit) ? PERCENT : 1)

/** A value in the unit that `unitText` names. */
export const inUnit = (value: number, unit: string) => rough(value * scaleOf(unit))

/** Whole numbers as somebody wrote them; what was worked out to three digits. */
export const asEntered = (value: number, unit: string) =>
  Number.isInteger(value) && !isShare(unit) ? tick(value) : inUnit(value, unit)

/** Half a 95 % interval to two digits. */
export const halfInUnit = (value: number, unit: string) => rough(value * scaleOf(unit), 2)

/** Both ends of an interval, as fine as its width and no finer. */
export function endsText(ends: { low: number; high: number }, unit: string): string {
  const end = (value: number) => estimateParts({ ...ends, value, basis: 'estimated' }, scaleOf(unit)).value
  return `${end(ends.low)} to ${end(ends.high)} ${unitText(unit)}`
}

export function unitText(unit: string): string {
  return isShare(unit) ? unit.replace('1', '%') : unit
}

export const phasesText = (kinds: readonly PhaseKind[]) => kinds.map((kind) => phaseKinds[kind]).join('; ')
