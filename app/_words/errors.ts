import type { Dictionary } from './dictionary'
import { en } from './en'
import type { Values } from './said'
import { sentenceOf } from './sentence'

/** What went wrong, and where, what was expected, what was found and what to do about it. */
export interface ErrorText {
  readonly title: string
  readonly detail: string
}

/**
 * The words for an error of `lib` or of a job: a code and values, as `TankwardError` and stored
 * failures carry them. A code without words shows itself and its values.
 */
export function errorWords(
  error: { readonly code: string; readonly values: Values },
  words: Dictionary = en,
): ErrorText {
  const known = Object.entries(words.errors).find(([code]) => code === error.code)?.[1]
  const details = known ? { [error.code]: known.detail } : {}
  return {
    title: known?.title ?? words.unknown(error.code),
    detail: sentenceOf(error.code, error.values, details, words),
  }
}
