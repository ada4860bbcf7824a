import type { CompareRow, CompareSums } from '@/app/_server/views/compare-view'

/** Sum of one figure over sum of another, over the machines that have both; null where none has. */
export function ratioOfSums(
  rows: readonly CompareRow[],
  part: keyof CompareSums,
  whole: keyof CompareSums,
): number | null {
  let over = 0
  let under = 0
  for (const { sums } of rows) {
    const [a, b] = [sums?.[part] ?? null, sums?.[whole] ?? null]
    if (a === null || b === null) continue
    over += a
    under += b
  }
  return under > 0 ? over / under : null
}

/** What the best option of each machine saves together; they are different machines, so savings add up. */
export function savedTogether(rows: readonly CompareRow[]): number | null {
  const known = rows.flatMap(({ bestSavedKWhPerYear: saved }) => (saved === null ? [] : [saved]))
  return known.length ? known.reduce((sum, saved) => sum + saved, 0) : null
}
