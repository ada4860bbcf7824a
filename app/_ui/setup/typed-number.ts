/** Typed numbers may carry a decimal comma; anything else stays text, for the schema to refuse. */
export function numberOf(text: string): number | string | undefined {
  const trimmed = text.trim().replace(',', '.')
  if (trimmed === '') return undefined
  const value = Number(trimmed)
  return Number.isNaN(value) ? text : value
}
