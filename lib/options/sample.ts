/** Length of the stretches that a sample is made of: long enough to hold whole cycles and idles. */
const BLOCK = 125

/** All of a list, or unbroken stretches of it, evenly spread, that hold about `most` together. */
export function sampleOf<Item>(list: readonly Item[], most: number): readonly Item[] {
  if (list.length <= most) return list
  const blocks = Math.max(1, Math.round(most / BLOCK))
  const stride = (list.length - BLOCK) / Math.max(1, blocks - 1)
  return Array.from({ length: blocks }, (_, block) => {
    const from = Math.round(block * stride)
    return list.slice(from, from + BLOCK)
  }).flat()
}
