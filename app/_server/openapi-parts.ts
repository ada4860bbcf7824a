import { z } from 'zod'
import { machineSchema } from '@/lib/contract/machine'
import { measureChangeSchema, newEventSchema, newMeasureSchema, newQuoteSchema } from '@/lib/contract/measure'
import { newTrialSchema, productionSchema } from '@/lib/contract/proof'
import { readingSchema } from '@/lib/contract/reading'
import { siteSchema, tariffFileSchema } from '@/lib/contract/site'
import { evidenceAnswerSchema, newEvidenceSchema } from './evidence-shapes'
import { explanationAnswerSchema, explanationsAnswerSchema } from './explanation-shape'
import {
  inspectionSchema,
  layoutAnswerSchema,
  logReadingSchema,
  newLayoutSchema,
  surveyAnswerSchema,
} from './inspection-shapes'
import {
  measureAnswerSchema,
  measureSummarySchema,
  productionAnswerSchema,
  proofAnswerSchema,
  trialAnswerSchema,
} from './measure-shapes'
import {
  baselinesSchema,
  changeAnswerSchema,
  changeSumSchema,
  monthEventsSchema,
  monthLogsSchema,
  newBaselineSchema,
  newMonthEventSchema,
  siteHistorySchema,
} from './month-shapes'
import {
  correctionAnswerSchema,
  correctionsAnswerSchema,
  doneLogSchema,
  liveAnswerSchema,
  liveStateSchema,
  logStateSchema,
  machineAnswerSchema,
  monthAnswerSchema,
  movedSettingsSchema,
  newCorrectionSchema,
  problemDocumentSchema,
  receivedSchema,
  samplesSchema,
} from './shapes'
import { newReportSchema, reportAnswerSchema } from './views/reports-view'
import { newSavedViewSchema, savedViewSchema } from './views/saved-views'

type Json = Readonly<Record<string, unknown>>

/** A shape as JSON Schema, as it is sent (`input`: defaults may be left out) or answered. */
function jsonSchema(schema: z.ZodType, io: 'input' | 'output'): Json {
  const { $schema: _, ...rest } = z.toJSONSchema(schema, { io, target: 'draft-2020-12' })
  return rest
}

/** Every shape of the interface by name, from the schemas that also validate and type it. */
export function componentSchemas(): Json {
  return {
    Machine: jsonSchema(machineSchema, 'input'),
    Site: jsonSchema(siteSchema, 'input'),
    MachineAnswer: jsonSchema(machineAnswerSchema, 'output'),
    Machines: jsonSchema(z.object({ machines: z.array(machineAnswerSchema) }), 'output'),
    SiteAnswer: jsonSchema(siteSchema, 'output'),
    Received: jsonSchema(receivedSchema, 'output'),
    LogState: jsonSchema(logStateSchema, 'output'),
    Log: jsonSchema(doneLogSchema, 'output'),
    Explanation: jsonSchema(explanationAnswerSchema, 'output'),
    Explanations: jsonSchema(explanationsAnswerSchema, 'output'),
    MovedSettings: jsonSchema(movedSettingsSchema, 'input'),
    MovedOption: jsonSchema(liveAnswerSchema, 'output'),
    MovedOptionState: jsonSchema(liveStateSchema, 'output'),
    Samples: jsonSchema(samplesSchema, 'output'),
    NewCorrection: jsonSchema(newCorrectionSchema, 'input'),
    Correction: jsonSchema(correctionAnswerSchema, 'output'),
    Corrections: jsonSchema(correctionsAnswerSchema, 'output'),
    NewEvidence: jsonSchema(newEvidenceSchema, 'input'),
    Evidence: jsonSchema(evidenceAnswerSchema, 'output'),
    EvidenceList: jsonSchema(z.object({ evidence: z.array(evidenceAnswerSchema) }), 'output'),
    Inspection: jsonSchema(inspectionSchema, 'output'),
    Reading: jsonSchema(readingSchema, 'input'),
    LogReading: jsonSchema(logReadingSchema, 'output'),
    NewLayout: jsonSchema(newLayoutSchema, 'input'),
    Layout: jsonSchema(layoutAnswerSchema, 'output'),
    Layouts: jsonSchema(z.object({ layouts: z.array(layoutAnswerSchema) }), 'output'),
    Refusal: jsonSchema(problemDocumentSchema.extend(surveyAnswerSchema.partial().shape), 'output'),
    Month: jsonSchema(monthAnswerSchema, 'output'),
    NewMonthEvent: jsonSchema(newMonthEventSchema, 'input'),
    MonthEvents: jsonSchema(monthEventsSchema, 'output'),
    NewBaseline: jsonSchema(newBaselineSchema, 'input'),
    Baselines: jsonSchema(baselinesSchema, 'output'),
    TariffFile: jsonSchema(tariffFileSchema, 'input'),
    MonthChange: jsonSchema(changeAnswerSchema, 'output'),
    MonthChangeSum: jsonSchema(changeSumSchema, 'output'),
    MonthLogs: jsonSchema(monthLogsSchema, 'output'),
    SiteHistory: jsonSchema(siteHistorySchema, 'output'),
    NewReport: jsonSchema(newReportSchema, 'input'),
    Report: jsonSchema(reportAnswerSchema, 'output'),
    Reports: jsonSchema(z.object({ reports: z.array(reportAnswerSchema) }), 'output'),
    NewSavedView: jsonSchema(newSavedViewSchema, 'input'),
    SavedView: jsonSchema(savedViewSchema, 'output'),
    SavedViews: jsonSchema(z.object({ views: z.array(savedViewSchema) }), 'output'),
    NewMeasure: jsonSchema(newMeasureSchema, 'input'),
    MeasureChange: jsonSchema(measureChangeSchema, 'input'),
    NewMeasureEvent: jsonSchema(newEventSchema, 'input'),
    NewMeasureQuote: jsonSchema(newQuoteSchema, 'input'),
    Measure: jsonSchema(measureAnswerSchema, 'output'),
    Measures: jsonSchema(z.object({ measures: z.array(measureSummarySchema) }), 'output'),
    Proof: jsonSchema(proofAnswerSchema, 'output'),
    NewTrial: jsonSchema(newTrialSchema, 'input'),
    Trial: jsonSchema(trialAnswerSchema, 'output'),
    Trials: jsonSchema(z.object({ trials: z.array(trialAnswerSchema) }), 'output'),
    NewProduction: jsonSchema(productionSchema, 'input'),
    Production: jsonSchema(productionAnswerSchema, 'output'),
    Problem: jsonSchema(problemDocumentSchema, 'output'),
  }
}

const named = (name: string) => ({ $ref: `#/components/schemas/${name}` })

/** An answer in JSON of one shape, or of any of several. */
export function answers(description: string, ...names: string[]): Json {
  if (names.length === 0) return { description }
  const schema = names.length === 1 ? named(names[0]) : { anyOf: names.map(named) }
  return { description, content: { 'application/json': { schema } } }
}

export function bodyOf(name: string): Json {
  return { required: true, content: { 'application/json': { schema: named(name) } } }
}

const binary = { schema: { type: 'string', format: 'binary' } }

/** A logger's file as the raw body. */
export const FILE_BODY: Json = {
  // Left out where an upload is named.
  required: false,
  description: 'The file itself, plain or gzip (Content-Encoding: gzip, or a packed file as it is).',
  content: { 'text/csv': binary, 'application/gzip': binary },
}

/** Some bytes of a file, as the tus protocol sends them. */
export const PIECE_BODY: Json = {
  required: true,
  content: { 'application/offset+octet-stream': binary },
}

export const FILE_ANSWER: Json = {
  description: 'The original file, byte for byte',
  content: { 'text/csv': binary, 'application/gzip': binary },
}

export function query(name: string, description: string, schema: Json, required = false): Json {
  return { name, in: 'query', required, description, schema }
}

export function header(name: string, description: string): Json {
  return { name, in: 'header', required: true, description, schema: { type: 'string' } }
}

/** A query parameter that holds JSON of a shape. */
export function jsonQuery(name: string, description: string, shape: string): Json {
  return { name, in: 'query', description, content: { 'application/json': { schema: named(shape) } } }
}

export function pathId(name: string, schema: Json = { type: 'string' }): Json {
  return { name, in: 'path', required: true, schema }
}

/** An operation; every one may answer with a problem document. */
export function operation(summary: string, parts: Json, responses: Json): Json {
  const content = { 'application/problem+json': { schema: named('Problem') } }
  return {
    summary,
    ...parts,
    responses: { ...responses, default: { description: 'A problem document (RFC 9457)', content } },
  }
}
