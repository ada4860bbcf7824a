/** What text must hold to need a closer look: a zero character or half of a pair, if only of a whole one. */
const DOUBTFUL = /[\0\ud800-\udfff]/

/** Text PostgreSQL can hold: no zero character, no half of a character pair. */
export function storableText(text: string): string {
  // Of the hundred thousands of keys and codes of a long log none is.
  if (!DOUBTFUL.test(text)) return text
  return Buffer.from(text.replaceAll('\0', '\ufffd'), 'utf8').toString('utf8')
}

/** The same for every text in a value that is to become JSON; what came from a file may hold anything. */
export function storable<T>(value: T): T {
  if (typeof value === 'string') return storableText(value) as T
  if (Array.isArray(value)) return value.map(storable) as T
  if (typeof value !== 'object' || value === null) return value
  return Object.fromEntries(
    Object.entries(value).map(([key, one]) => [storableText(key), storable(one)]),
  ) as T
}
