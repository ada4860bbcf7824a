import { isUnitText } from './unit-words'

export interface HeaderCell {
  /** The trimmed cell, as the contract names the column. */
  readonly column: string
  /** The name without its unit. */
  readonly name: string
  /** The unit as written, or null. */
  readonly unitText: string | null
}

const SEPARATED = /^(.+?)\s*(?:,|;|\bin\b|:|-| \/ |\s)\s*([^\s,;:]+(?:\s*\/\s*[^\s,;:]+)?)$/
const SLASHED = /^([^/]+?)\s*\/\s*([^\s/]+(?:\/[^\s/]+)?)$/

/** Longer cells are no names with units: patterns are not tried on them. */
const LONGEST_NAME = 200
const OPENING = '[({<'
const CLOSING = '])}>'

/** `name [unit]`, the unit with brackets of its own or not; null where the cell does not end in a bracket with its pair. */
function splitBrackets(column: string): { name: string; unitText: string } | null {
  let depth = 0
  for (let i = column.length - 1; i >= 0; i--) {
    if (CLOSING.includes(column[i])) depth++
    else if (OPENING.includes(column[i])) depth--
    if (i === column.length - 1 && depth === 0) return null
    if (depth > 0) continue
    const unitText = column.slice(i + 1, -1).trim()
    return unitText === '' ? null : { name: column.slice(0, i).trim(), unitText }
  }
  return null
}

/** A header cell split into name and unit: in brackets, after a comma, a slash, an underscore or a space. */
export function readHeaderCell(cell: string): HeaderCell {
  const column = cell.replace(/\s+/g, ' ').trim()
  if (column.length > LONGEST_NAME) return { column, name: column, unitText: null }
  const brackets = splitBrackets(column)
  if (brackets !== null) return { column, ...brackets }
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
