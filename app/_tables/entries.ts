import { compareNames } from '@/app/_ui/name-order'

/** A line of a table: a row, or the head of the group of rows beneath it. */
export type Entry<Item> =
  | { readonly kind: 'row'; readonly item: Item }
  | { readonly kind: 'group'; readonly name: string; readonly items: readonly Item[] }

/**
 * Rows as lines, in their order. With `nameOf` they are parted into groups, each beneath its head, in the
 * order of their names; rows without a name come last.
 */
export function entriesOf<Item>(
  items: readonly Item[],
  nameOf: ((item: Item) => string | null) | null,
  unnamed: string,
): Entry<Item>[] {
  const row = (item: Item): Entry<Item> => ({ kind: 'row', item })
  if (!nameOf) return items.map(row)
  const groups = new Map<string | null, Item[]>()
  for (const item of items) {
    const name = nameOf(item)
    groups.set(name, [...(groups.get(name) ?? []), item])
  }
  return [...groups]
    .sort(([a], [b]) => (a === null ? 1 : b === null ? -1 : compareNames(a, b)))
    .flatMap(([name, own]) => [
      { kind: 'group', name: name ?? unnamed, items: own } as const,
      ...own.map(row),
    ])
}
