import { z } from 'zod'
import { PHASE_KINDS } from './result'

/** What a person says of [startS, endS) of a log, in elapsed seconds from its first sample. */
export const correctionSchema = z
  .object({ startS: z.number().nonnegative(), endS: z.number().positive(), kind: z.enum(PHASE_KINDS) })
  .refine(({ startS, endS }) => endS > startS, { path: ['endS'], message: 'must lie after startS' })
export type Correction = z.infer<typeof correctionSchema>

/** CORRECTIONS.json: where two overlap, the later one in the list wins. */
export const correctionsSchema = z.array(correctionSchema)
