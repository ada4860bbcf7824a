import { z } from 'zod'
import { localDateSchema, validitySchema } from './local-dates'

/** Hours on the site's clock [fromHour, toHour); from 22 to 6 ends on the day after. */
export const shiftSchema = z.object({
  name: z.string().min(1).optional(),
  fromHour: z.number().min(0).max(24),
  toHour: z.number().min(0).max(24),
})

/** Shifts that begin on days of a kind. */
export const workDaySchema = z.object({
  weekdays: z.array(z.number().int().min(1).max(7)).default([]),
  dayTypes: z.array(z.string().min(1)).default([]),
  shifts: z.array(shiftSchema),
})

/** Dates with other shifts than their kind of day has: none is a shutdown. */
export const exceptionSchema = z.object({
  from: localDateSchema,
  /** The last of them; left out: the one date. */
  until: localDateSchema.optional(),
  shifts: z.array(shiftSchema),
  note: z.string().optional(),
})

/**
 * When machines are meant to run. A calendar that names machines holds for those, one that names none for all others;
 * of several that hold on a date the one that begins last counts.
 */
export const shiftCalendarSchema = validitySchema.partial({ from: true }).extend({
  name: z.string().min(1),
  /** Ids or names of machines. */
  machines: z.array(z.string().min(1)).optional(),
  days: z.array(workDaySchema),
  exceptions: z.array(exceptionSchema).default([]),
})
export type ShiftCalendar = z.infer<typeof shiftCalendarSchema>
