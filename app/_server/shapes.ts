import { z } from 'zod'
import { LOG_STATES } from '@/db/schema/logs'
import { correctionSchema } from '@/lib/contract/corrections'
import { channelSchema, LOCATIONS, machineSchema, QUANTITIES } from '@/lib/contract/machine'
import { PHASE_KINDS, resultSchema } from '@/lib/contract/result'
import { UNITS } from '@/lib/units'
import { logReadingSchema } from './inspection-shapes'
import { monthEventSchema, monthReviewSchema, monthSummarySchema } from './month-shapes'

/** What the HTTP interface says beside MACHINE.json, SITE.json and the result: one schema a shape. */

const values = z.record(z.string(), z.union([z.string(), z.number(), z.null()]))

export const problemDocumentSchema = z.object({
  type: z.string(),
  title: z.string(),
  status: z.number().int(),
  detail: z.string(),
  code: z.string(),
  values: values.optional(),
  issues: z.array(z.looseObject({ path: z.array(z.string()), message: z.string() })).optional(),
})

export const receivedSchema = z.object({
  id: z.string(),
  machineId: z.string(),
  state: z.enum(LOG_STATES),
  url: z.string(),
})

export const logStateSchema = receivedSchema.extend({
  fileName: z.string(),
  progress: z.number().min(0).max(1),
  receivedAt: z.string(),
  /** Null where nobody said how the file is to be read. */
  reading: logReadingSchema.nullable(),
  error: z.object({ code: z.string(), values, title: z.string(), detail: z.string() }).optional(),
})

const storedChannelSchema = z.object({
  name: z.string(),
  column: z.string(),
  quantity: z.enum(QUANTITIES),
  location: z.enum(LOCATIONS),
  unit: z.enum(UNITS),
  accuracy: channelSchema.shape.accuracy.unwrap().nullable(),
})

export const doneLogSchema = logStateSchema
  .extend({
    state: z.literal('done'),
    engineVersion: z.number().int(),
    computedAt: z.string(),
    channelsStored: z.array(storedChannelSchema),
  })
  .extend(resultSchema.shape)

const LONGEST_AUTHOR = 200
const LONGEST_REASON = 2000

/** A correction as it is sent: with who says it and why, where they are told. */
export const newCorrectionSchema = correctionSchema.safeExtend({
  author: z.string().trim().max(LONGEST_AUTHOR).nullable().default(null),
  reason: z.string().trim().max(LONGEST_REASON).nullable().default(null),
})

export const correctionAnswerSchema = z.object({
  id: z.string(),
  url: z.string(),
  startS: z.number(),
  endS: z.number(),
  /** The same on the clock; null where the log has no date. */
  startAt: z.string().nullable(),
  endAt: z.string().nullable(),
  kind: z.enum(PHASE_KINDS),
  author: z.string().nullable(),
  reason: z.string().nullable(),
  createdAt: z.string(),
  /** What it does in the stored figures; null while they are not yet made with it. */
  applied: z.object({ foundS: z.record(z.string(), z.number()), inForceS: z.number() }).nullable(),
})
export type CorrectionAnswer = z.infer<typeof correctionAnswerSchema>

export const correctionsAnswerSchema = z.object({
  corrections: z.array(correctionAnswerSchema),
  /** Whether the stored figures are made with these corrections and no others. */
  upToDate: z.boolean(),
  /** How far the machine's logs are brought up to date; null where nothing is at work. */
  refresh: z
    .object({
      logId: z.string(),
      stage: z.enum(['reading', 'analysing', 'storing']),
      progress: z.number(),
      logsDone: z.number().int(),
      logsInAll: z.number().int(),
    })
    .nullable(),
})

/** Settings of an option as a person moved them, by the names in its row; those left out are chosen. */
export const movedSettingsSchema = z.object({ settings: z.record(z.string(), z.number()).default({}) })

export const liveAnswerSchema = z.object({
  state: z.literal('replayed'),
  /** As in the result, with the moved settings; `tornado` is null, as it compares all options. */
  option: resultSchema.shape.options.element,
  /** How far each setting may be moved while the others are as they were sent. */
  ranges: z.record(z.string(), z.object({ low: z.number(), high: z.number() })),
})
export type LiveAnswer = z.infer<typeof liveAnswerSchema>

/** Not yet: the log is taken up, or its figures are brought up to date. Ask again. */
export const liveStateSchema = z.object({ state: z.enum(['preparing', 'updating']) })
export type LiveState = z.infer<typeof liveStateSchema>

const column = z.array(z.number().nullable())

export const samplesSchema = z.object({
  id: z.string(),
  fromS: z.number(),
  toS: z.number(),
  samples: z.number().int(),
  bucketSamples: z.number().int(),
  buckets: z.object({ startS: z.array(z.number()), endS: z.array(z.number()) }),
  channels: z.array(
    z.object({ name: z.string(), unit: z.enum(UNITS), min: column, max: column, mean: column }),
  ),
})
export type Samples = z.infer<typeof samplesSchema>

export const machineAnswerSchema = z.object({
  id: z.string(),
  name: z.string(),
  line: z.string().nullable(),
  trade: z.string().nullable(),
  url: z.string(),
  /** Whether figures are being brought up to date with a changed set-up. */
  refreshing: z.boolean(),
  machine: machineSchema,
})
export type MachineAnswer = z.infer<typeof machineAnswerSchema>

const joules = z.number()
const monthRowSchema = z.object({
  logId: z.string(),
  phaseKind: z.enum(PHASE_KINDS),
  seconds: z.number(),
  electricJ: joules,
  motorLossJ: joules,
  pumpLossJ: joules,
  overReliefJ: joules,
  unloadingJ: joules,
  intoSystemJ: joules,
  meteringJ: joules.nullable(),
  workJ: joules.nullable(),
  unaccountedJ: joules,
  cost: z.number(),
  cycles: z.number(),
})

export const monthAnswerSchema = z.object({
  month: z.string(),
  timeZone: z.string(),
  currency: z.string(),
  /** Whether the month is closed: its figures are then those of its closing. */
  closed: z.boolean(),
  events: z.array(monthEventSchema),
  machines: z.array(
    z.object({
      machineId: z.string(),
      name: z.string(),
      line: z.string().nullable(),
      trade: z.string().nullable(),
      /** Null where the month has no log of the machine: no data. */
      summary: monthSummarySchema.nullable(),
      /** How sure its figures are, and what changed; null as `summary`. */
      review: monthReviewSchema.nullable(),
      /** Numerators by log and kind of phase: any sum of rows is right. */
      rows: z.array(monthRowSchema),
    }),
  ),
})
export type MonthAnswer = z.infer<typeof monthAnswerSchema>
