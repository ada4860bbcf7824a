import { isUnitText } from './unit-words'

export interface HeaderCell {
  /** The trimmed cell, as the contract names the column. */
  readonly column: string
  /** The name without its unit. */
  readonly name: string
  /** The unit as written, or null. */
  readonly unitText: string | null
}

const BRACKETS = /^(.*?)\s*[[({<]\s*([^\])}>]+(?:\([^)]*\))?)\s*[\])}>]\s*$/
const SEPARATED = /^(.+?)\s*(?:,|;|\bin\b|:|-| \/ |\s)\s*([^\s,;:]+(?:\s*\/\s*[^\s,;:]+)?)$/
const SLASHED = /^([^/]+?)\s*\/\s*([^\s/]+(?:\/[^\s/]+)?)$/

/** A header cell split into name and unit: in brackets, after a comma, a slash, an underscore or a space. */
export function readHeaderCell(cell: string): HeaderCell {
  const column = cell.replace(/\s+/g, ' ').trim()
  const brackets = BRACKETS.exec(column)
  if (brackets !== null) return { column, name: brackets[1].trim(), unitText: brackets[2].trim() }
  const parts = column.split('_')
  for (const take of [3, 2, 1]) {
    if (parts.length <= take) continue
    const unitText = parts.slice(-take).join('_')
    const known = take === 1 ? isUnitText(unitText) : isUnitText(unitText.replaceAll('_', '/'))
    if (known)
      return { column, name: parts.slice(0, -take).join('_'), unitText: unitText.replaceAll('_', '/') }
  }
  for (const shape of [SEPARATED, SLASHED]) {
    const match = shape.exec(column)
    // One letter after a space is more often a name ("Port A") than a unit.
    const bare = match !== null && /\s$/.test(column.slice(0, column.length - match[2].length))
    if (match !== null && isUnitText(match[2]) && !(bare && /^[a-z1-]$/i.test(match[2]))) {
      return { column, name: match[1].trim(), unitText: match[2] }
    }
  }
  return { column, name: column, unitText: null }
}
