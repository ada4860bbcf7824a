import { z } from 'zod'
import { estimateSchema } from './estimate'

/** What energy is held against: every cycle the same, pieces made, or hours run. */
export const DRIVERS = ['cycles', 'production', 'running-hours'] as const
export type Driver = (typeof DRIVERS)[number]

/** What else a baseline may be adjusted for, where it was logged. Times and loads are those of a cycle, or a log's means. */
export const ADJUSTMENTS = ['idle-time', 'working-time', 'load-pressure', 'oil-temperature'] as const
export type Adjustment = (typeof ADJUSTMENTS)[number]

const day = z.iso.date()
const finite = z.number()

/** Which logs are held against which, and how. Days are the site's, both inclusive; null leaves that end open. */
export const proofSetupSchema = z.object({
  driver: z.enum(DRIVERS).default('cycles'),
  adjustments: z.array(z.enum(ADJUSTMENTS)).default(['idle-time', 'working-time']),
  /** The same sensors stayed fitted from the first log to the last: then their offsets are the same in all. */
  sameSensors: z.boolean().default(false),
  baseline: z.object({ from: day.nullable(), to: day.nullable() }).default({ from: null, to: null }),
  comparison: z.object({ from: day.nullable(), to: day.nullable() }).default({ from: null, to: null }),
  /** Logs inside of the spans that do not count. */
  leftOut: z.array(z.string()).default([]),
})
export type ProofSetup = z.infer<typeof proofSetupSchema>

export const VERDICTS = ['proven', 'proven-less', 'not-proven', 'worse', 'not-enough-data'] as const
export type Verdict = (typeof VERDICTS)[number]

export const codeSchema = z.object({
  code: z.string(),
  values: z.record(z.string(), z.union([z.string(), z.number(), z.null()])),
})

const coefficientSchema = z.object({
  /** `constant`, a driver or an adjustment. */
  name: z.string(),
  /** J, or J per unit of what it stands for (piece, hour, second, Pa, K). */
  value: finite,
  standardError: finite,
  t: finite,
})

const sideSchema = z.object({
  logs: z.array(z.string()),
  /** Cycles, or logs where the driver is pieces or hours. */
  units: z.number().int(),
  electricKWh: finite,
  drivers: finite,
})

/** What widens the saving, 95 %, kWh. */
export const PROOF_PARTS = [
  'baseline-scatter',
  'new-scatter',
  'between-logs',
  'sensors',
  'models',
  'of-each-log',
] as const
const partSchema = z.object({ source: z.enum(PROOF_PARTS), halfWidthKWh: finite })
export type ProofPart = z.infer<typeof partSchema>

const modelSchema = z.object({
  coefficients: z.array(coefficientSchema),
  units: z.number().int(),
  /** Share of the energy's variance that the model explains; null where only a mean was fitted. */
  r2: finite.nullable(),
  /** Σ(actual − model)/((n − p)·mean) and its root-mean-square twin, ASHRAE Guideline 14. */
  nmbe: finite,
  cvRmse: finite,
  /** How alike neighbouring residuals are, and how many independent units that leaves. */
  lag1: finite,
  effectiveUnits: finite,
})
export type BaselineModel = z.infer<typeof modelSchema>

const logRowSchema = z.object({
  logId: z.string(),
  at: z.string().nullable(),
  side: z.enum(['baseline', 'comparison']),
  units: z.number().int(),
  expectedKWh: finite,
  actualKWh: finite,
  /** Running sum of actual − expected up to and with this log: up = worse. */
  cusumKWh: finite,
  /** Page's sums of the standardised difference, and whether one of them passed the limit. */
  above: finite,
  below: finite,
  alarm: z.enum(['worse', 'better']).nullable(),
})
export type ProofLogRow = z.infer<typeof logRowSchema>

/** A saving held against its baseline and its promise. Energies are those of the compared units, unless a name says year. */
export const proofSchema = z.object({
  version: z.literal(1),
  verdict: z.enum(VERDICTS),
  setup: proofSetupSchema,
  /** Adjustments in force: those asked for that every log has. */
  adjustments: z.array(z.enum(ADJUSTMENTS)),
  baseline: sideSchema,
  comparison: sideSchema,
  model: modelSchema.nullable(),
  expectedKWh: estimateSchema.nullable(),
  savedKWh: estimateSchema.nullable(),
  savedShare: estimateSchema.nullable(),
  /** Promised share of the adjusted baseline; null where no share was frozen. */
  predictedKWh: estimateSchema.nullable(),
  savedKWhPerYear: estimateSchema.nullable(),
  /** Of the same hours as what was saved. */
  predictedKWhPerYear: estimateSchema.nullable(),
  /** Hours of the year that yearly figures stand for; left out by proofs frozen before it was kept. */
  plannedHours: finite.optional(),
  runningHours: finite,
  parts: z.array(partSchema),
  degreesOfFreedom: finite.nullable(),
  coverageFactor: finite.nullable(),
  logs: z.array(logRowSchema),
  warnings: z.array(codeSchema),
})
export type Proof = z.infer<typeof proofSchema>

const trialSideSchema = z.object({
  cycles: z.number().int(),
  fromS: finite,
  toS: finite,
  kWhPerCycle: finite,
  /** At the mean idle and working time of all compared cycles. */
  adjustedKWh: finite,
  spreadKWh: finite,
  effectiveCycles: finite,
})

/** Cycles before and after a setting was changed by hand, in one log. */
export const trialSchema = z.object({
  version: z.literal(1),
  verdict: z.enum(VERDICTS),
  before: trialSideSchema,
  after: trialSideSchema,
  savedKWhPerCycle: estimateSchema.nullable(),
  savedShare: estimateSchema.nullable(),
  t: finite.nullable(),
  degreesOfFreedom: finite.nullable(),
  scatterKWh: finite,
  sensorsKWh: finite,
  adjustments: z.array(z.enum(ADJUSTMENTS)),
  /** The pressure level that changed most at the moment given; null where none changed. */
  levelChange: z.object({ level: z.enum(['idle', 'highest']), beforePa: finite, afterPa: finite }).nullable(),
  warnings: z.array(codeSchema),
})
export type Trial = z.infer<typeof trialSchema>

export const newTrialSchema = z.object({
  /** Elapsed seconds from the log's first sample. */
  atS: z.number().nonnegative(),
  cycles: z.number().int().min(3).max(1000).default(10),
  measureId: z.string().nullable().default(null),
  note: z.string().trim().max(2000).nullable().default(null),
  author: z.string().trim().max(200).nullable().default(null),
})

/** Pieces made while a log ran, as a person counted them. */
export const productionSchema = z.object({
  pieces: z.number().nonnegative(),
  note: z.string().trim().max(500).nullable().default(null),
  author: z.string().trim().max(200).nullable().default(null),
})
