/** Middle of the widest empty band among values within [low, high], else the `usual` value. */
export function widestGap(values: number[], low: number, high: number, usual: number): number {
  const inside = values.filter((value) => value > low && value < high).sort((a, b) => a - b)
  const edges = [low, ...inside, high]
  let best = usual
  let width = 0
  for (let i = 1; i < edges.length; i++) {
    if (edges[i] - edges[i - 1] > width) {
      width = edges[i] - edges[i - 1]
      best = (edges[i] + edges[i - 1]) / 2
    }
  }
  return inside.length === 0 ? usual : best
}
