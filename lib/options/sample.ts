/** Length of the stretches that a sample is made of: long enough to hold whole cycles and idles. */
const BLOCK = 125

/** Indices of all of so many, or of unbroken stretches of them, evenly spread, that hold about `most` together. */
export function sampledIndices(count: number, most: number): Int32Array {
  if (count <= most) return Int32Array.from({ length: count }, (_, k) => k)
  const blocks = Math.max(1, Math.round(most / BLOCK))
  const stride = (count - BLOCK) / Math.max(1, blocks - 1)
  return Int32Array.from(
    { length: blocks * BLOCK },
    (_, k) => Math.round(Math.floor(k / BLOCK) * stride) + (k % BLOCK),
  )
}

/** The same of a list. */
export const sampleOf = <Item>(list: readonly Item[], most: number): readonly Item[] =>
  list.length <= most ? list : Array.from(sampledIndices(list.length, most), (k) => list[k])
