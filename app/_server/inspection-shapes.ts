import { z } from 'zod'
import { LAYOUT_KINDS, layoutSchema } from '@/lib/contract/layout'
import { channelSchema, LOCATIONS, QUANTITIES } from '@/lib/contract/machine'
import { readingSchema } from '@/lib/contract/reading'
import { problemSchema } from '@/lib/contract/result'

/** What the HTTP interface says of files that are looked at and of how they are read: one schema a shape. */

/** How a log's file is read beyond what it says itself. */
export const logReadingSchema = z.object({
  reading: readingSchema,
  /** The remembered layout it comes from, as it was then; null where it was said for this file. */
  remembered: z.object({ id: z.string(), at: z.string(), by: z.string().nullable() }).nullable(),
})

const evidenceSource = z.enum(['declared', 'name-and-unit', 'name', 'unit', 'header', 'values', 'only-one'])

const understoodColumnSchema = z.object({
  /** Place in the row, from 0. */
  index: z.number().int(),
  column: z.string(),
  unitText: z.string().nullable(),
  kind: z.enum(LAYOUT_KINDS),
  /** Cells as they stand in the file: the first, and of numbers the lowest and the highest. */
  examples: z.array(z.string()),
  named: z.enum([...QUANTITIES, 'never']).nullable(),
  namedLocation: z.enum(LOCATIONS).nullable(),
  unitQuantity: z.enum(QUANTITIES).nullable(),
  /** What it is read as; null where it is not used. */
  channel: channelSchema.nullable(),
  /** What told its quantity, place and unit. */
  evidence: z
    .object({
      quantity: evidenceSource,
      location: evidenceSource,
      unit: evidenceSource,
      confidence: z.enum(['declared', 'certain', 'likely', 'guessed']),
    })
    .nullable(),
  unused: z
    .enum([
      'time',
      'words',
      'empty',
      'other-quantity',
      'raw-signal',
      'extra',
      'not-declared',
      'not-recognised',
    ])
    .nullable(),
})
export type ColumnAnswer = z.infer<typeof understoodColumnSchema>

/** What a file leaves open, with its readings. */
const questionSchema = z.object({
  id: z.enum(['dayOrder', 'decimalMark', 'timeUnit', 'startedAt', 'timeZone', 'clockShift', 'columns']),
  /** A cell as the file writes it, or what the question is about. */
  example: z.string().nullable(),
  column: z.string().nullable(),
  line: z.number().int().nullable(),
  choices: z.array(z.object({ value: z.string(), reading: z.string().nullable(), likelier: z.boolean() })),
})
export type Question = z.infer<typeof questionSchema>

/** What the top of a file shows, and how it is read; also beside a refusal. */
export const surveyAnswerSchema = z.object({
  layout: layoutSchema,
  columns: z.array(understoodColumnSchema),
  reading: logReadingSchema.nullable(),
})
export type SurveyAnswer = z.infer<typeof surveyAnswerSchema>

const LONGEST_AUTHOR = 200
const LONGEST_FILE_NAME = 200

/** How files of a layout are to be read from now on; a start belongs to one recording and is left out. */
export const newLayoutSchema = z.object({
  layout: layoutSchema,
  reading: readingSchema,
  author: z.string().trim().max(LONGEST_AUTHOR).nullable().default(null),
  fileName: z.string().trim().max(LONGEST_FILE_NAME).nullable().default(null),
})

export const layoutAnswerSchema = z.object({
  id: z.string(),
  url: z.string(),
  layout: layoutSchema,
  reading: readingSchema,
  author: z.string().nullable(),
  fileName: z.string().nullable(),
  createdAt: z.string(),
  usedAt: z.string().nullable(),
})
export type LayoutAnswer = z.infer<typeof layoutAnswerSchema>

const column = z.array(z.number().nullable())

export const inspectionSchema = surveyAnswerSchema.extend({
  fileName: z.string(),
  startedAt: z.string().nullable(),
  endedAt: z.string().nullable(),
  durationS: z.number(),
  sampleIntervalS: z.number(),
  sampleCount: z.number().int(),
  /** The log already stored of this machine with the same content, if any. */
  sameAs: z.string().nullable(),
  /** Stored logs of this machine that share time with it: their hours would count twice. */
  overlaps: z.array(
    z.object({ id: z.string(), fileName: z.string(), startedAt: z.string(), endedAt: z.string() }),
  ),
  questions: z.array(questionSchema),
  report: z.object({
    fileName: z.string().optional(),
    rowsRead: z.number().int(),
    rowsUsed: z.number().int(),
    rowsRejected: z.number().int(),
    dialect: z.object({
      encoding: z.string(),
      delimiter: z.string(),
      decimalMark: z.enum(['.', ',']),
      headerLine: z.number().int().nullable(),
      firstDataLine: z.number().int(),
      timeFormat: z.string(),
    }),
    /** The files of a recording that came in several. */
    parts: z.array(z.object({ fileName: z.string(), rowsRead: z.number().int() })).optional(),
    /** Where the file is a spreadsheet: the sheet that is read, and others that hold a recording. */
    spreadsheet: z.object({ sheet: z.string(), others: z.array(z.string()) }).optional(),
    channels: z.array(channelSchema),
    unusedColumns: z.array(z.string()),
    gaps: z.array(z.object({ startS: z.number(), endS: z.number() })),
    problems: z.array(problemSchema.extend({ message: z.string() })),
  }),
  preview: z.object({
    startS: z.array(z.number()),
    channels: z.array(
      z.object({ column: z.string(), unit: z.string(), min: column, max: column, mean: column }),
    ),
  }),
})
export type Inspection = z.infer<typeof inspectionSchema>
