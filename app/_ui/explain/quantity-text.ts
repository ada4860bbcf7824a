import { phaseKinds } from '@/app/_words/en/names'
import type { PhaseKind } from '@/lib/contract/result'
import { number } from '../format'

const PERCENT = 100

/** Shares are shown in per cent; everything else in its own unit. */
const isShare = (unit: string) => unit === '1' || unit === '1/yr'

export const scaleOf = (unit: string) => (isShare(unit) ? PERCENT : 1)

/** A value in the unit that `unitText` names. */
export const inUnit = (value: number, unit: string) => number(value * scaleOf(unit))

export function unitText(unit: string): string {
  return isShare(unit) ? unit.replace('1', '%') : unit
}

export const phasesText = (kinds: readonly PhaseKind[]) => kinds.map((kind) => phaseKinds[kind]).join('; ')
