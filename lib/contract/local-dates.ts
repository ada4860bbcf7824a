import { z } from 'zod'

/** A date on the site's calendar, `YYYY-MM-DD`. */
export const localDateSchema = z.iso.date()

/** A day of every year, `MM-DD`. */
export const monthDaySchema = z
  .string()
  .regex(/^(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/, { message: 'MM-DD expected' })

/** Days a thing holds on, the first and the last among them; without a last it holds on. */
export const validitySchema = z.object({ from: localDateSchema, until: localDateSchema.optional() })
export type Validity = z.infer<typeof validitySchema>

type Issue = z.core.$ZodRawIssue<z.core.$ZodIssueCustom>

/** What is wrong with the dates of versions that follow one another: each must end after it begins, no two begin on a day. */
export function validityIssues(versions: readonly Validity[] | undefined, place: string): Issue[] {
  const issue = (index: number, key: string, expected: string, actual: string): Issue => ({
    code: 'custom',
    path: [place, index, key],
    message: `expected ${expected}, got ${actual}`,
    expected,
    actual,
    input: actual,
  })
  return (versions ?? []).flatMap(({ from, until }, index, all) => [
    ...(until !== undefined && until < from ? [issue(index, 'until', `${from} or later`, until)] : []),
    ...(all.slice(0, index).some((earlier) => earlier.from === from)
      ? [issue(index, 'from', 'another date', from)]
      : []),
  ])
}
