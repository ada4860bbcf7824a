import { z } from 'zod'

/** Investment of one option in the site's currency: low, likely, high. */
export const triangleSchema = z.tuple([
  z.number().nonnegative(),
  z.number().nonnegative(),
  z.number().nonnegative(),
])

/** One time-of-use band: the price per kWh within local hours [fromHour, toHour) on the given ISO weekdays (1 = Monday). */
export const bandSchema = z.object({
  name: z.string().min(1),
  weekdays: z.array(z.number().int().min(1).max(7)).min(1),
  fromHour: z.number().min(0).max(24),
  toHour: z.number().min(0).max(24),
  pricePerKWh: z.number().nonnegative(),
})

export const tariffSchema = z.object({
  bands: z.array(bandSchema).default([]),
  demand: z
    .object({
      pricePerKWMonth: z.number().nonnegative(),
      windowMinutes: z.number().positive().default(15),
      coincidenceShare: z.number().min(0).max(1).default(1),
    })
    .optional(),
})

/** SITE.json, version 1: everything optional, the defaults below are stated in the result. */
export const siteSchema = z.object({
  version: z.literal(1).default(1),
  name: z.string().min(1).default('Site'),
  timeZone: z.string().min(1).default('UTC'),
  currency: z.string().length(3).default('EUR'),
  energyPricePerKWh: z.number().nonnegative().default(0.2),
  emissionKgPerKWh: z.number().nonnegative().default(0.25),
  plannedHoursPerYear: z.number().positive().max(8784).default(4000),
  /** How far the year's hours may be from the planned ones, 95 %, as a share (common practice, no source). */
  plannedHoursLimitShare: z.number().min(0).max(1).default(0.05),
  discountRate: z.number().min(0).max(1).default(0.08),
  lifetimeYears: z.number().positive().default(10),
  wantedPaybackYears: z.number().positive().default(3),
  tariff: tariffSchema.optional(),
  optionCosts: z.record(z.string(), triangleSchema).default({}),
})
export type Site = z.infer<typeof siteSchema>
