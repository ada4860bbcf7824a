import { z } from 'zod'
import { evidenceSchema } from '@/lib/contract/machine'

const LONGEST_AUTHOR = 200

/** Evidence as it is handed in: of which column's sensor, and who says it. */
export const newEvidenceSchema = z.object({
  column: z.string().trim().min(1),
  evidence: evidenceSchema.refine((said) => Object.values(said).some((value) => value !== undefined), {
    message: 'one of serialNumber, certificateNumber, certificateDate, zeroReading',
  }),
  author: z.string().trim().min(1).max(LONGEST_AUTHOR),
})
export type NewEvidence = z.infer<typeof newEvidenceSchema>

export const evidenceAnswerSchema = z.object({
  id: z.string(),
  column: z.string(),
  evidence: evidenceSchema,
  author: z.string(),
  createdAt: z.string(),
})
export type EvidenceAnswer = z.infer<typeof evidenceAnswerSchema>
