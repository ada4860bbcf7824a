import { z } from 'zod'
import { localDateSchema, monthDaySchema, validitySchema } from './local-dates'

/** Days of every year from the first to the last, both among them; from 11-01 to 03-31 runs over new year. */
export const seasonSchema = z.object({ from: monthDaySchema, to: monthDaySchema })

/**
 * One time-of-use band: the price per kWh within local hours [fromHour, toHour) on the given ISO weekdays (1 = Monday)
 * and named types of day, within its seasons where it has any.
 */
export const bandSchema = z.object({
  name: z.string().min(1),
  weekdays: z.array(z.number().int().min(1).max(7)).min(1),
  /** Types of day that holidays name (`countsAs`); such a day is no weekday. */
  dayTypes: z.array(z.string().min(1)).optional(),
  /** Left out: all year. */
  seasons: z.array(seasonSchema).min(1).optional(),
  fromHour: z.number().min(0).max(24),
  toHour: z.number().min(0).max(24),
  pricePerKWh: z.number().nonnegative(),
})

/** Highest mean over a window in a month, times a price. */
export const demandSchema = z.object({
  pricePerKWMonth: z.number().nonnegative(),
  windowMinutes: z.number().positive().default(15),
  coincidenceShare: z.number().min(0).max(1).default(1),
})

/**
 * Power factor charge: a price for each kvarh of a month above `freeKvarhPerKWh` times the month's kWh. A free share
 * of 0.5 is a power factor of 0.894 (common practice, no source).
 */
export const reactiveSchema = z.object({
  pricePerKvarh: z.number().nonnegative(),
  freeKvarhPerKWh: z.number().nonnegative().default(0.5),
})

export const tariffSchema = z.object({
  bands: z.array(bandSchema).default([]),
  demand: demandSchema.optional(),
  reactive: reactiveSchema.optional(),
})

/** A tariff with the days it holds on; outside of all of them the site's own price and tariff hold. */
export const tariffVersionSchema = validitySchema.extend({
  name: z.string().min(1).optional(),
  energyPricePerKWh: z.number().nonnegative(),
  ...tariffSchema.shape,
})

/** An emission factor with the days it holds on; outside of all of them the site's own holds. */
export const emissionVersionSchema = validitySchema.extend({ kgPerKWh: z.number().nonnegative() })

/** A day that counts as another: a weekday (7 = Sunday, where nothing is said) or a type of day by name. */
export const holidaySchema = z.object({
  /** One date, or a day of every year. */
  date: z.union([localDateSchema, monthDaySchema]),
  name: z.string().optional(),
  countsAs: z.union([z.number().int().min(1).max(7), z.string().min(1)]).default(7),
})
