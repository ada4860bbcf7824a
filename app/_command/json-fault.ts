import type { ErrorValues } from '@/lib/errors'

/** Characters that the parser quotes before the one it stumbled over. */
const QUOTED_BEFORE = 10

function positionIn(text: string, message: string): number | null {
  const at = /position (\d+)/.exec(message)
  if (at !== null) return Number(at[1])
  if (/^Unexpected end/.test(message)) return text.length
  const shown = /token '(.)', (\.\.\.)?"([\s\S]*?)"(?:\.\.\.)? is not valid JSON$/.exec(message)
  if (shown === null) return null
  const [, token, cut, quoted] = shown
  const from = text.indexOf(quoted)
  return from < 0 ? null : from + (cut === undefined ? Math.max(0, quoted.indexOf(token)) : QUOTED_BEFORE)
}

/** What a JSON parser complains of and the line it stands in, as far as the parser tells. */
export function jsonFault(text: string, error: unknown): ErrorValues {
  const actual = error instanceof Error ? error.message : String(error)
  const position = positionIn(text, actual)
  const expected = 'Expected JSON'
  return position === null
    ? { expected, actual }
    : { line: text.slice(0, position).split('\n').length, expected, actual }
}
