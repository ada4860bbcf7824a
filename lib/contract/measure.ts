import { z } from 'zod'
import { estimateSchema } from './estimate'
import { OPTION_IDS } from './option-result'
import { proofSetupSchema } from './proof'

/** How far a measure has come; `rejected` needs a reason. */
export const MEASURE_STATES = [
  'proposed',
  'approved',
  'ordered',
  'installed',
  'verified',
  'rejected',
] as const
export type MeasureState = (typeof MEASURE_STATES)[number]

/**
 * Which state may follow which. A step back is a further state, so nothing of what was said is lost; only what is
 * installed can be verified, and what was verified wrongly is installed again.
 */
export const NEXT_STATES: Readonly<Record<MeasureState, readonly MeasureState[]>> = {
  proposed: ['approved', 'rejected'],
  approved: ['ordered', 'installed', 'proposed', 'rejected'],
  ordered: ['installed', 'approved', 'rejected'],
  installed: ['verified', 'ordered', 'rejected'],
  verified: ['installed'],
  rejected: ['proposed'],
}

const text = z.string().trim().max(4000)
/** A day of the calendar at the site, `YYYY-MM-DD`. */
export const daySchema = z.iso.date()

/** What was promised when it was decided, frozen: later engines and logs do not move it. */
export const expectedSchema = z.object({
  /** Share of the machine's electric input; null where only a yearly figure is known. */
  savedShare: estimateSchema.nullable(),
  savedKWhPerYear: estimateSchema,
  /** Running hours of the year that it was promised for; left out where nobody said. */
  plannedHours: z.number().positive().optional(),
  /** The option's settings as replayed; none for a measure of a person's own. */
  settings: z.record(z.string(), z.union([z.number(), z.string(), z.boolean(), z.null()])),
  engineVersion: z.number().int().nullable(),
  /** The log it was replayed on; null where a person typed it. */
  logId: z.string().nullable(),
  fileName: z.string().nullable(),
  logStartedAt: z.string().nullable(),
  frozenAt: z.string(),
})
export type Expected = z.infer<typeof expectedSchema>

/** A yearly saving in kWh as a person expects it, where no option was replayed. */
const typedExpectation = z
  .object({ low: z.number(), likely: z.number(), high: z.number() })
  .refine(({ low, likely, high }) => low <= likely && likely <= high, {
    message: 'low <= likely <= high expected',
  })

/** A new measure: an option of a log's result, or a person's own with a title. */
export const newMeasureSchema = z
  .object({
    machineId: z.string().min(1),
    optionId: z.enum(OPTION_IDS).nullable().default(null),
    /** The log whose result promises the saving; needed with an option. */
    logId: z.string().nullable().default(null),
    title: text.max(200).nullable().default(null),
    expectedKWhPerYear: typedExpectation.nullable().default(null),
    owner: text.max(200).nullable().default(null),
    notes: text.nullable().default(null),
    on: daySchema.nullable().default(null),
    author: text.max(200).nullable().default(null),
  })
  .refine((one) => (one.optionId === null ? Boolean(one.title) : one.logId !== null), {
    message: 'option and log, or title expected',
    path: ['optionId'],
  })
export type NewMeasure = z.infer<typeof newMeasureSchema>

/** What of a measure may be written anew; left out stays. */
export const measureChangeSchema = z.object({
  owner: text.max(200).nullable().optional(),
  notes: text.nullable().optional(),
  setup: proofSetupSchema.optional(),
})

/** A step of a measure; `on` is the day it happened, today where left out. */
export const newEventSchema = z.object({
  state: z.enum(MEASURE_STATES),
  on: daySchema.nullable().default(null),
  reason: text.nullable().default(null),
  author: text.max(200).nullable().default(null),
})

export const newQuoteSchema = z.object({
  text: text.min(1),
  amount: z.number().nonnegative(),
  on: daySchema.nullable().default(null),
})
