import { z } from 'zod'

export const LAYOUT_KINDS = ['time', 'number', 'word', 'empty'] as const
/** What stands in a column, as far as it hardly changes from file to file; `empty` fits any. */
export type LayoutKind = (typeof LAYOUT_KINDS)[number]

/** The shape of a logger's files, by which the same set-up is known again: nothing of its maker, nothing of its values. */
export const layoutSchema = z.object({
  delimiter: z.string().min(1),
  /** Header cells as they stand in the file, one space for any; null where there is no header. */
  header: z.array(z.string()).nullable(),
  /** Units as written, in the header or a row of their own. */
  units: z.array(z.string().nullable()),
  kinds: z.array(z.enum(LAYOUT_KINDS)).min(1),
})
export type Layout = z.infer<typeof layoutSchema>

const same = <T>(
  a: readonly T[],
  b: readonly T[],
  fits: (one: T, other: T) => boolean = Object.is,
): boolean => a.length === b.length && a.every((one, i) => fits(one, b[i]))

/** True where two files have one shape: a column that is empty in one of them may hold anything in the other. */
export function isSameLayout(a: Layout, b: Layout): boolean {
  const sameHeader = a.header === null || b.header === null ? a.header === b.header : same(a.header, b.header)
  return (
    a.delimiter === b.delimiter &&
    sameHeader &&
    same(a.units, b.units) &&
    same(a.kinds, b.kinds, (one, other) => one === other || one === 'empty' || other === 'empty')
  )
}
