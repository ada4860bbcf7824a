import { type CellKind, cellKind } from './cell-kind'

export function isDataKind(kind: CellKind): boolean {
  return kind === 'number' || kind === 'datetime' || kind === 'date' || kind === 'time'
}

/** The kind most cells of a column have; `missing` only where it has nothing else. */
export function columnKind(cells: readonly string[]): CellKind {
  const counts = new Map<CellKind, number>()
  for (const cell of cells) {
    const kind = cellKind(cell)
    if (kind !== 'missing') counts.set(kind, (counts.get(kind) ?? 0) + 1)
  }
  if ((counts.get('datetime') ?? 0) > 0 && (counts.get('date') ?? 0) > 0) {
    counts.set('datetime', (counts.get('datetime') ?? 0) + (counts.get('date') ?? 0))
    counts.delete('date')
  }
  let kind: CellKind = 'missing'
  let most = 0
  for (const [candidate, count] of counts) if (count > most) [kind, most] = [candidate, count]
  return kind
}
