/** Values a statement carries, as the contract has them. */
export type Values = Readonly<Record<string, string | number | null>>

/** Reads a statement's values for its sentence and knows which were used. */
export interface Said {
  /** The number of times it happened, 1 where the statement counts nothing. */
  readonly count: number
  /** `count` things: the number with the form of the noun that fits. */
  things(one: string, many: string): string
  /** A value as text, or the text for a value nobody knows. */
  value(name: string): string
  /** A part of the sentence around a value, or nothing where the value is not there. */
  part(name: string, words: (value: string) => string): string
  /** The same around a share, as percent. */
  percent(name: string, words: (value: string) => string): string
  /** The values that no sentence has used, as `name: value`. */
  rest(): string[]
}

const UNKNOWN = '–'
const PER_CENT = 100
const DIGITS = 3

/** @param silent names that are said elsewhere, such as line and column */
export function saidOf(values: Values, language: string, silent: readonly string[] = []): Said {
  const used = new Set<string>(['count', ...silent])
  const count = typeof values.count === 'number' ? values.count : 1
  const take = (name: string): string | null => {
    used.add(name)
    return textOf(values[name], language)
  }
  return {
    count,
    things: (one, many) => `${textOf(count, language)} ${count === 1 ? one : many}`,
    value: (name) => take(name) ?? UNKNOWN,
    part: (name, words) => {
      const text = take(name)
      return text === null ? '' : words(text)
    },
    percent: (name, words) => {
      used.add(name)
      const share = values[name]
      if (typeof share !== 'number') return ''
      return words(`${numberFormat(language, 'significant').format(share * PER_CENT)} %`)
    },
    rest: () =>
      Object.keys(values)
        .filter((name) => !used.has(name))
        .flatMap((name) => {
          const text = textOf(values[name], language)
          return text === null ? [] : [`${spaced(name)}: ${text}`]
        }),
  }
}

/** Whole numbers in full, others to three digits, none finer than sensors tell; nothing for what is not there. */
function textOf(value: string | number | null | undefined, language: string): string | null {
  if (value === null || value === undefined || value === '') return null
  if (typeof value === 'string') return value
  // Digits before the point are never rounded away.
  const whole = Math.abs(value) >= 10 ** DIGITS || Number.isInteger(value)
  return numberFormat(language, whole ? 'whole' : 'significant').format(value)
}

const DIGITS_SHOWN = {
  whole: { maximumFractionDigits: 0 },
  significant: { maximumSignificantDigits: DIGITS },
} as const

/** Making one costs a hundred times what formatting with it does. */
const formats = new Map<string, Intl.NumberFormat>()

function numberFormat(language: string, digits: keyof typeof DIGITS_SHOWN): Intl.NumberFormat {
  const key = `${language} ${digits}`
  const known = formats.get(key) ?? new Intl.NumberFormat(language, DIGITS_SHOWN[digits])
  formats.set(key, known)
  return known
}

/** `lowSettingBar` as `low setting bar`. */
export function spaced(name: string): string {
  return name.replace(/([a-z0-9])([A-Z])/g, '$1 $2').toLowerCase()
}
