import { z } from 'zod'
import { validityIssues } from './local-dates'
import { shiftCalendarSchema } from './shift-calendar'
import { emissionVersionSchema, holidaySchema, tariffSchema, tariffVersionSchema } from './tariff'

/** Investment of one option in the site's currency: low, likely, high. */
export const triangleSchema = z.tuple([
  z.number().nonnegative(),
  z.number().nonnegative(),
  z.number().nonnegative(),
])

/** Change of an option's yearly upkeep in the site's currency: low, likely, high, more cost being positive. */
export const changeSchema = z
  .tuple([z.number(), z.number(), z.number()])
  .refine(([low, likely, high]) => low <= likely && likely <= high, {
    message: 'low <= likely <= high expected',
  })

/** Powered cooling of the oil: kW of electricity a kW of heat taken out costs. */
export const coolingSchema = z.object({ electricPerHeat: z.number().nonnegative().max(2) })

/** SITE.json, version 1: everything optional, the defaults below are stated in the result. */
const siteShape = z.object({
  version: z.literal(1).default(1),
  name: z.string().min(1).default('Site'),
  timeZone: z.string().min(1).default('UTC'),
  currency: z.string().length(3).default('EUR'),
  energyPricePerKWh: z.number().nonnegative().default(0.2),
  emissionKgPerKWh: z.number().nonnegative().default(0.25),
  plannedHoursPerYear: z.number().positive().max(8784).default(4000),
  /** How far the year's hours may be from the planned ones, 95 %, as a share (common practice, no source). */
  plannedHoursLimitShare: z.number().min(0).max(1).default(0.05),
  /** How far the mean price of energy over the life may be from today's, 95 %, as a share (common practice, no source). */
  energyPriceLimitShare: z.number().min(0).max(1).default(0.1),
  discountRate: z.number().min(0).max(1).default(0.08),
  /** How far another discount rate may be asked for, 95 %, per year (common practice, no source). */
  discountRateLimit: z.number().min(0).max(1).default(0.02),
  lifetimeYears: z.number().positive().max(100).default(10),
  /** How far a life may be from the one reckoned with, 95 %, as a share (common practice, no source). */
  lifetimeLimitShare: z.number().min(0).lt(1).default(0.2),
  wantedPaybackYears: z.number().positive().default(3),
  tariff: tariffSchema.optional(),
  /** Prices by the days they hold on; of several that hold on a date the one that begins last counts. */
  tariffs: z.array(tariffVersionSchema).optional(),
  /** Emission factors by the days they hold on. */
  emissions: z.array(emissionVersionSchema).optional(),
  /** Days that count as others, for prices and shifts alike; of several on a date the first counts. */
  holidays: z.array(holidaySchema).optional(),
  /** When machines are meant to run; left out: a twelfth of `plannedHoursPerYear` each month. */
  calendars: z.array(shiftCalendarSchema).optional(),
  /** What cools the oil of every machine that says nothing of its own; left out: nothing that takes electricity. */
  cooling: coolingSchema.optional(),
  optionCosts: z.record(z.string(), triangleSchema).default({}),
  /** By option; nil where left out. */
  optionMaintenance: z.record(z.string(), changeSchema).default({}),
  /** By option; `lifetimeYears` where left out. */
  optionLifetimeYears: z.record(z.string(), z.number().positive().max(100)).default({}),
  /** Most that may be spent on one machine, for the best set under it; left out: no limit is looked at. */
  budget: z.number().nonnegative().optional(),
})

/** What of a site changes with its supplier and its shifts. */
export const TARIFF_KEYS = [
  'energyPricePerKWh',
  'emissionKgPerKWh',
  'plannedHoursPerYear',
  'tariff',
  'tariffs',
  'emissions',
  'holidays',
  'calendars',
] as const

const checkVersions = (value: Pick<Partial<z.infer<typeof siteShape>>, 'tariffs' | 'emissions'>) => [
  ...validityIssues(value.tariffs, 'tariffs'),
  ...validityIssues(value.emissions, 'emissions'),
]

/** Those as a file of their own; a key that no tariff knows is refused, so that a slip of the pen is seen. */
export const tariffFileSchema = z
  .strictObject({
    version: z.literal(1).default(1),
    energyPricePerKWh: siteShape.shape.energyPricePerKWh.unwrap().optional(),
    emissionKgPerKWh: siteShape.shape.emissionKgPerKWh.unwrap().optional(),
    plannedHoursPerYear: siteShape.shape.plannedHoursPerYear.unwrap().optional(),
    tariff: siteShape.shape.tariff,
    tariffs: siteShape.shape.tariffs,
    emissions: siteShape.shape.emissions,
    holidays: siteShape.shape.holidays,
    calendars: siteShape.shape.calendars,
  })
  .check(({ value, issues }) => {
    issues.push(...checkVersions(value))
  })

/** SITE.json, checked in itself too: versions end after they begin. */
export const siteSchema = siteShape.check(({ value, issues }) => {
  issues.push(...checkVersions(value))
})
export type Site = z.infer<typeof siteSchema>
