import type { Machine } from '@/lib/contract/machine'
import type { FieldSpec } from './fields'
import { FURTHER_LISTS, type FurtherKey } from './further-fields'
import { numberOf } from './typed-number'

/** One further pump, set or auxiliary as typed: text by path within it. */
export interface FurtherRow {
  readonly key: string
  readonly text: Readonly<Record<string, string>>
}
export type FurtherDraft = Readonly<Record<FurtherKey, readonly FurtherRow[]>>

const at = (source: unknown, path: string): unknown =>
  path
    .split('.')
    .reduce<unknown>(
      (value, key) =>
        value && typeof value === 'object' ? (value as Record<string, unknown>)[key] : undefined,
      source,
    )

const textOf = (fields: readonly FieldSpec[], source: unknown) =>
  Object.fromEntries(
    fields.map(({ path, choices }) => {
      const value = at(source, path)
      return [path, value === undefined ? (choices?.[0][0] ?? '') : String(value)]
    }),
  )

/** An empty row of a list. */
export function newRow(key: FurtherKey, rowKey: string): FurtherRow {
  const list = FURTHER_LISTS.find((one) => one.key === key)
  const text = textOf(list?.fields ?? [], null)
  return { key: rowKey, text: 'count' in text ? { ...text, count: '1' } : text }
}

/** The lists of a machine as form text. */
export function furtherOf(machine: Machine | null): FurtherDraft {
  const rows = (key: FurtherKey) => {
    const fields = FURTHER_LISTS.find((one) => one.key === key)?.fields ?? []
    return (machine?.[key] ?? []).map((item, k) => ({ key: `${key} ${k}`, text: textOf(fields, item) }))
  }
  return {
    furtherPumps: rows('furtherPumps'),
    furtherSets: rows('furtherSets'),
    auxiliaries: rows('auxiliaries'),
  }
}

function itemOf(fields: readonly FieldSpec[], text: FurtherRow['text']): unknown {
  const item: Record<string, unknown> = {}
  for (const { path, choices, isText } of fields) {
    const typed = text[path] ?? ''
    const value = choices || isText ? typed.trim() || undefined : numberOf(typed)
    if (value === undefined) continue
    const groups = path.split('.')
    const key = groups.pop() ?? path
    let inner = item
    for (const group of groups) {
      inner[group] ??= {}
      inner = inner[group] as Record<string, unknown>
    }
    inner[key] = value
  }
  return item
}

/** The lists as they stand in MACHINE.json; empty ones are left out. */
export function furtherJson(draft: FurtherDraft): Record<string, unknown> {
  return Object.fromEntries(
    FURTHER_LISTS.flatMap(({ key, fields }) =>
      draft[key].length > 0 ? [[key, draft[key].map((row) => itemOf(fields, row.text))]] : [],
    ),
  )
}
