import type { DecimalMark } from './number'

/** What one cell says of the decimal mark. `either-point`: `1.234` reads as 1.234 or as 1234. */
export type DecimalEvidence = 'point' | 'comma' | 'either-point' | 'either-comma' | 'none'

const EITHER = /^[+-]?[1-9]\d{0,2}([.,])\d{3}$/
const SINGLE = /^[+-]?\d*([.,])\d+(?:e[+-]?\d+)?$/i
const GROUPS = /^[+-]?\d{1,3}(?:([.,])\d{3})(?:\1\d{3})+$/
const BOTH = /^[+-]?\d{1,3}(?:[.,]\d{3})+([.,])\d+$/

/** A number with the unit a logger writes behind it (`12.5 bar`). */
const BARE =
  /^\s*([+-]?[\d.,'’\u0020\u00a0\u202f]*\d)\s*[^\d\s.,:'’+-][^\d\s.,:]{0,8}(?: [^\d\s.,:]{1,8})?\s*$/

export function decimalEvidence(cell: string): DecimalEvidence {
  if (!cell.includes('.') && !cell.includes(',')) return 'none'
  const bare = BARE.exec(cell)?.[1] ?? cell.trim()
  const text = bare.replace(/(?<=\d)[\u0020\u00a0\u202f'’](?=\d{3})/g, '')
  const either = EITHER.exec(text)
  if (either !== null) {
    // A space or apostrophe already groups the thousands, so the other mark is the decimal one.
    const settled = text !== bare
    if (either[1] === '.') return settled ? 'point' : 'either-point'
    return settled ? 'comma' : 'either-comma'
  }
  const single = SINGLE.exec(text)
  if (single !== null) return single[1] === '.' ? 'point' : 'comma'
  const groups = GROUPS.exec(text)
  if (groups !== null) return groups[1] === '.' ? 'comma' : 'point'
  const both = BOTH.exec(text)
  if (both !== null && text.indexOf(both[1]) === text.lastIndexOf(both[1])) {
    return both[1] === '.' ? 'point' : 'comma'
  }
  return 'none'
}

/** Counts of evidence, by majority; null while the cells seen leave both readings open. */
export class DecimalVote {
  private point = 0
  private comma = 0

  see(cell: string): void {
    const evidence = decimalEvidence(cell)
    if (evidence === 'point') this.point++
    else if (evidence === 'comma') this.comma++
  }

  get mark(): DecimalMark | null {
    if (this.point === this.comma) return null
    return this.point > this.comma ? '.' : ','
  }
}
