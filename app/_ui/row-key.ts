let made = 0

/** A name for a row that a person adds to a form, unlike any other's of this page. */
export function rowKey(): string {
  made += 1
  return `new ${made}`
}
