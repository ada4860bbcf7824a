/** Middle of the widest empty band among values within [low, high]; null where none lies there. */
export function widestGap(values: readonly number[], low: number, high: number): number | null {
  const inside = values.filter((value) => value > low && value < high).sort((a, b) => a - b)
  if (inside.length === 0) return null
  const edges = [low, ...inside, high]
  let best = 0
  let width = -1
  for (let i = 1; i < edges.length; i++) {
    if (edges[i] - edges[i - 1] > width) {
      width = edges[i] - edges[i - 1]
      best = (edges[i] + edges[i - 1]) / 2
    }
  }
  return best
}
