// Press 9 stands before press 10, wherever names are listed.
const collator = new Intl.Collator('en', { numeric: true })

/** The order of two names, numbers within them by their size. */
export const compareNames = (a: string, b: string): number => collator.compare(a, b)

/** The same rows in the order of their names. */
export const byName = <Row extends { readonly name: string }>(rows: readonly Row[]): Row[] =>
  [...rows].sort((a, b) => compareNames(a.name, b.name))
