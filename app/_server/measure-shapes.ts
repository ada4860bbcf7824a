import { z } from 'zod'
import { expectedSchema, MEASURE_STATES } from '@/lib/contract/measure'
import { proofSchema, proofSetupSchema, trialSchema } from '@/lib/contract/proof'

const worded = z.object({ code: z.string(), message: z.string() })

/** A proof with its sentences. */
export const proofAnswerSchema = proofSchema.extend({
  message: z.string(),
  loggedMessage: z.string(),
  warnings: z.array(worded),
})
export type ProofAnswer = z.infer<typeof proofAnswerSchema>

export const measureEventSchema = z.object({
  seq: z.number().int(),
  state: z.enum(MEASURE_STATES),
  on: z.string(),
  reason: z.string().nullable(),
  author: z.string().nullable(),
  enteredAt: z.string(),
  /** What was proven, frozen with the step; null for steps without. */
  proof: proofAnswerSchema.nullable(),
})
export type MeasureEventAnswer = z.infer<typeof measureEventSchema>

export const measureQuoteSchema = z.object({
  id: z.string(),
  text: z.string(),
  amount: z.number(),
  currency: z.string(),
  on: z.string(),
})

export const measureSummarySchema = z.object({
  id: z.string(),
  url: z.string(),
  machineId: z.string(),
  machineName: z.string(),
  line: z.string().nullable(),
  /** One of today’s options, or one that was offered when it was decided. */
  optionId: z.string().nullable(),
  title: z.string(),
  state: z.enum(MEASURE_STATES),
  /** Day of its latest step. */
  on: z.string(),
  owner: z.string().nullable(),
  expected: expectedSchema.nullable(),
  /** Frozen proof of its latest step; null where that has none. */
  proof: proofAnswerSchema.nullable(),
})
export type MeasureSummary = z.infer<typeof measureSummarySchema>

export const measureAnswerSchema = measureSummarySchema.extend({
  notes: z.string().nullable(),
  setup: proofSetupSchema,
  /** States that may follow. */
  next: z.array(z.enum(MEASURE_STATES)),
  events: z.array(measureEventSchema),
  quotes: z.array(measureQuoteSchema),
})
export type MeasureAnswer = z.infer<typeof measureAnswerSchema>

export const trialAnswerSchema = z.object({
  id: z.string(),
  url: z.string(),
  logId: z.string(),
  atS: z.number(),
  cycles: z.number().int(),
  measureId: z.string().nullable(),
  note: z.string().nullable(),
  author: z.string().nullable(),
  /** Null where the log was analysed before what trials need was kept. */
  trial: trialSchema.extend({ message: z.string(), warnings: z.array(worded) }).nullable(),
})
export type TrialAnswer = z.infer<typeof trialAnswerSchema>

export const productionAnswerSchema = z.object({
  pieces: z.number(),
  note: z.string().nullable(),
  author: z.string().nullable(),
})
