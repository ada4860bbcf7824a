import { z } from 'zod'
import { BASES } from './estimate'
import { evidenceSchema, LOCATIONS, QUANTITIES } from './machine'
import { PHASE_KINDS } from './result'

const finite = z.number()

/** Where a value that goes into a figure comes from; `figure` is another figure of the same result. */
export const INPUT_SOURCES = ['sensor', 'nameplate', 'default', 'fitted', 'setting', 'figure'] as const
export type InputSource = (typeof INPUT_SOURCES)[number]

/** What a default rests on: a published or trade table, or common practice without a source. */
export const STANDINGS = ['table', 'common-practice'] as const
export type Standing = (typeof STANDINGS)[number]

/** One term of a sum: `coefficient` × what the symbol stands for. */
const termSchema = z.object({ coefficient: finite, symbol: z.string() })
export type Term = z.infer<typeof termSchema>

/** How one symbol of a formula was reached, with this log's sensors, in some kinds of phases. */
const ruleSchema = z.object({
  symbol: z.string(),
  kinds: z.array(z.enum(PHASE_KINDS)),
  hours: finite,
  /** Hours over all hours of the log. */
  timeShare: finite,
  terms: z.array(termSchema),
  /** Mean of the symbol over that time. */
  mean: finite.nullable(),
  unit: z.string(),
})
export type Rule = z.infer<typeof ruleSchema>

const inputSchema = z.object({
  symbol: z.string(),
  value: z.union([finite, z.string()]),
  unit: z.string(),
  source: z.enum(INPUT_SOURCES),
  /** What the log made of it, where that is not the same; null else. */
  found: finite.nullable(),
  /** Column of the log, field of the machine or site file, or path of another figure. */
  from: z.string().nullable(),
  /** The kinds of phases that a mean reading is taken over; null for what holds for the whole log. */
  kinds: z.array(z.enum(PHASE_KINDS)).nullable(),
})
export type Input = z.infer<typeof inputSchema>

const sensorUseSchema = z.object({
  column: z.string(),
  quantity: z.enum(QUANTITIES),
  location: z.enum(LOCATIONS),
  unit: z.string(),
  samples: z.number().int(),
  hours: finite,
  /** 95 % limit of one constant offset a log, in `unit`. */
  limit: finite,
  /** False where the limit is the default: 1 % of the largest reading. */
  declared: z.boolean(),
  /** The offset found in this log and taken off, and its own 95 % limit afterwards; in `unit`. */
  offset: finite,
  limitAfter: finite,
  /** What was known of the sensor when the log was imported. */
  evidence: evidenceSchema.optional(),
})
export type SensorUse = z.infer<typeof sensorUseSchema>

const defaultUseSchema = z.object({
  parameter: z.string(),
  value: finite,
  unit: z.string(),
  /** 95 % limit before the log was looked at. */
  limit: finite,
  standing: z.enum(STANDINGS),
  /** What the log made of it, and the 95 % limit afterwards. */
  found: finite,
  limitAfter: finite,
})
export type DefaultUse = z.infer<typeof defaultUseSchema>

const partSchema = z.object({
  source: z.string(),
  /** The sensor, where the source is a sensor's offset. */
  column: z.string().nullable(),
  /**
   * What the source contributes to either side of the 95 % interval, in the figure's unit. The square of each side is
   * the sum of these squares, each with the sign of the contribution: one that is tied to others may narrow it.
   */
  below: finite,
  above: finite,
  /** The same for both sides together, and as a share of the variance (the shares add up to 1). */
  halfWidth: finite,
  shareOfVariance: finite,
  /** Share of the variance that would be gone if this source were known exactly, all others as they are. */
  goneIfKnown: finite,
})
export type IntervalPart = z.infer<typeof partSchema>

const remedySchema = z.object({
  code: z.string(),
  source: z.string(),
  /** How much narrower the interval would be at most, as a share of its width. */
  narrowerShare: finite,
  column: z.string().nullable(),
})
export type Remedy = z.infer<typeof remedySchema>

const cashFlowSchema = z.object({
  year: finite,
  flow: finite,
  discountFactor: finite,
  presentValue: finite,
})
export type CashFlow = z.infer<typeof cashFlowSchema>

/** How one figure of a result was reached: codes and values, no sentences. */
export const explanationSchema = z.object({
  /** Path of the figure in the result, such as `ledgerKWh.overRelief` or `options.vent-relief-at-idle.savedShare`. */
  figure: z.string(),
  value: finite.nullable(),
  low: finite.nullable(),
  high: finite.nullable(),
  unit: z.string(),
  basis: z.enum(BASES).nullable(),
  formula: z.object({ code: z.string(), symbols: z.array(z.string()) }),
  rules: z.array(ruleSchema),
  inputs: z.array(inputSchema),
  sensors: z.array(sensorUseSchema),
  defaults: z.array(defaultUseSchema),
  intervalParts: z.array(partSchema),
  /** What the interval takes as exact. */
  takenAsExact: z.array(z.string()),
  /** Yearly flows of money, where the figure is made of them. */
  cashFlows: z.array(cashFlowSchema),
  narrowing: remedySchema.nullable(),
})
export type Explanation = z.infer<typeof explanationSchema>
