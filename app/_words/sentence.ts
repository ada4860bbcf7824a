import type { Dictionary, Say } from './dictionary'
import { saidOf, type Values } from './said'

const PLACE = ['fileName', 'line', 'column'] as const

/** Where a statement was found, as `file, line, column: `, or nothing. */
export function placeOf(values: Values, words: Dictionary): string {
  const parts = PLACE.flatMap((name) => {
    const value = values[name]
    return value === null || value === undefined ? [] : [words.place[name](String(value))]
  })
  return parts.length === 0 ? '' : `${parts.join(', ')}: `
}

/**
 * The sentence of a code with its place before it and, in brackets after it, every value that the
 * sentence has not used: nothing a statement carries is dropped. A code without words shows itself.
 */
export function sentenceOf(
  code: string,
  values: Values,
  entries: Readonly<Record<string, Say>>,
  words: Dictionary,
): string {
  const said = saidOf(values, words.language, PLACE)
  const say = Object.hasOwn(entries, code) ? entries[code] : () => words.unknown(code)
  const sentence = say(said)
  const rest = said.rest()
  return `${placeOf(values, words)}${sentence}${rest.length === 0 ? '' : ` (${rest.join('; ')})`}`
}
