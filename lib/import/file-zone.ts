import { checkZone } from './zone'

const OFFSET = /\b(?:UTC|GMT)\s*([+-])\s*(\d{1,2})(?::?(\d{2}))?\b/i
const PLAIN = /\b(?:UTC|GMT|zulu)\b/i
const LABEL = /time ?zone|zeitzone|fuseau|zona horaria|fuso orario|utc ?offset/i
const NAME = /\b([A-Z][A-Za-z]+\/[A-Z][A-Za-z_]+)\b/

function zoneIn(text: string): string | null {
  const offset = OFFSET.exec(text)
  if (offset !== null) return `${offset[1]}${offset[2].padStart(2, '0')}:${offset[3] ?? '00'}`
  return PLAIN.test(text) ? 'UTC' : null
}

/** The zone a file names for its stamps, in the time column's header or a line above the table; else the site's. */
export function fileZone(timeColumn: string, preamble: readonly string[], siteZone: string): string {
  const inHeader = zoneIn(timeColumn)
  if (inHeader !== null) return inHeader
  for (const line of preamble) {
    if (!LABEL.test(line)) continue
    const named = NAME.exec(line)?.[1]
    const zone = named ?? zoneIn(line)
    if (zone === null || zone === undefined) continue
    try {
      checkZone(zone)
      return zone
    } catch {
      return siteZone
    }
  }
  return siteZone
}
