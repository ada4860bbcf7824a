import { isMissingMark } from './missing'
import { newStamp, readStamp } from './stamp'
import { isUnitText } from './unit-words'

export type CellKind = 'missing' | 'number' | 'datetime' | 'date' | 'time' | 'boolean' | 'text'

const NUMBERISH = /^[+\-−]?(?:\d+|\d{1,3}(?:[.,'’\u0020\u00a0\u202f]\d{3})+)?(?:[.,]\d*)?(?:e[+-]?\d+)?$/i
const WITH_UNIT = /^([+\-−]?[\d.,'’\u0020\u00a0\u202f]*\d)\s*([^\d\s.,'’+-]\S{0,8}(?: \S{1,8})?)$/
const BOOLEAN =
  /^(?:true|false|on|off|ein|aus|yes|no|ja|nein|wahr|falsch|an|high|low|oui|non|si|sí|vrai|faux)$/i
const ON = /^(?:1|true|on|ein|yes|ja|wahr|an|high|oui|si|sí|vrai)$/i
const OFF = /^(?:0|false|off|aus|no|nein|falsch|low|non|faux)$/i

const stamp = newStamp()

export function cellKind(cell: string): CellKind {
  if (isMissingMark(cell)) return 'missing'
  if (NUMBERISH.test(cell)) return 'number'
  const first = cell.charCodeAt(0)
  const startsLikeStamp = (first >= 48 && first <= 57) || /[a-z]/i.test(cell[0])
  if (startsLikeStamp && /\d/.test(cell) && cell.length < 48 && readStamp(cell, stamp)) {
    if (stamp.date === 'none') return 'time'
    return stamp.hasTime ? 'datetime' : 'date'
  }
  if (BOOLEAN.test(cell)) return 'boolean'
  if (unitInCell(cell) !== null) return 'number'
  return 'text'
}

/** The unit a logger writes behind every number (`12.5 bar`), or null. */
export function unitInCell(cell: string): string | null {
  const match = WITH_UNIT.exec(cell)
  return match !== null && NUMBERISH.test(match[1]) && isUnitText(match[2]) ? match[2] : null
}

/** A switch state as 1 or 0; NaN where the cell is none. */
export function readSwitch(cell: string): number {
  if (ON.test(cell)) return 1
  return OFF.test(cell) ? 0 : Number.NaN
}
