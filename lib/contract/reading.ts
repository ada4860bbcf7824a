import { z } from 'zod'
import { channelSchema } from './machine'

export const DAY_ORDERS = ['day-first', 'month-first'] as const
export type DayOrder = (typeof DAY_ORDERS)[number]

export const TIME_UNITS = ['ms', 's', 'min', 'h'] as const
export type TimeUnit = (typeof TIME_UNITS)[number]

const WALL_CLOCK = /^\d{4}-\d{2}-\d{2}(?:T\d{2}:\d{2}(?::\d{2}(?:\.\d{1,3})?)?)?$/

/** A day, or a day and time of the wall clock, as in 2026-03-31T06:00, in ms as if it were UTC; NaN where it is none. */
export function wallClockMs(text: string): number {
  if (!WALL_CLOCK.test(text)) return Number.NaN
  const ms = Date.parse(text.includes('T') ? `${text}Z` : text)
  // 31 April is no day, whatever a parser makes of it.
  const isDay = !Number.isNaN(ms) && new Date(ms).toISOString().startsWith(text.slice(0, 'YYYY-MM-DD'.length))
  return isDay ? ms : Number.NaN
}

/**
 * How a person says a logger's file is to be read. Answers settle what the file leaves open; what it
 * says itself stands, and an answer against it is reported. `channels` stand in the place of the machine's.
 */
export const readingSchema = z.strictObject({
  dayOrder: z.enum(DAY_ORDERS).optional(),
  decimalMark: z.enum(['.', ',']).optional(),
  /** Unit of a time column that names none. */
  timeUnit: z.enum(TIME_UNITS).optional(),
  /** IANA name or offset such as +01:00 of the logger's clock, where it is not the site's. */
  timeZone: z.string().min(1).optional(),
  /**
   * The logger's clock at the first sample of a file whose rows carry no date; a day alone where they carry the
   * time of day. `null`: asked, and nobody knows.
   */
  startedAt: z
    .string()
    .refine((text) => !Number.isNaN(wallClockMs(text)), {
      message: 'expected 2026-03-31T06:00 or 2026-03-31',
    })
    .nullable()
    .optional(),
  /**
   * Of several files of one recording: what is to be added to the stamps of a logger's files, in s, by the file's
   * name; 0: they stand as stamped.
   */
  clockShifts: z.record(z.string(), z.number()).optional(),
  /** The columns that are used, as in MACHINE.json; the others are not. */
  channels: z.array(channelSchema).min(1).optional(),
})
export type Reading = z.infer<typeof readingSchema>

/** What of it is about the file, and not about its columns. */
export type Answers = Omit<Reading, 'channels'>
