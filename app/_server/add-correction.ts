import type { z } from 'zod'
import { storableText } from '@/app/_jobs/storable'
import type { Database } from '@/db/client'
import { insertCorrection, listCorrections } from '@/db/queries/corrections'
import type { CorrectionRow } from '@/db/schema/corrections'
import type { LogRow } from '@/db/schema/logs'
import { checkCorrection, ROUNDING_S } from '@/lib/phases/corrections'
import { ApiProblem } from './api-problem'
import { sampleAt } from './find-window'
import { newId } from './new-id'
import type { newCorrectionSchema } from './shapes'

const MS_PER_S = 1000

/** Text as it can be stored, null where nothing is said. */
const said = (text: string | null) => storableText(text ?? '') || null

/**
 * Stores what a person says of a stretch of a log.
 * @throws ApiProblem `not-ready`; TankwardError `correction-outside`, `correction-without-samples`
 */
export async function addCorrection(
  db: Database,
  log: LogRow,
  correction: z.infer<typeof newCorrectionSchema>,
): Promise<CorrectionRow> {
  const { id: logId, machineId, siteId, state, durationS, startedAt } = log
  if (state !== 'done' || durationS === null) throw new ApiProblem('not-ready', { id: logId, state })
  const key = { machineId, logId }
  const { startS, endS, kind } = correction
  const before = await sampleAt(db, key, startS - ROUNDING_S)
  const last = await sampleAt(db, key, endS - ROUNDING_S)
  checkCorrection(correction, (await listCorrections(db, key)).length + 1, durationS, last - before)
  const clock = (seconds: number) => startedAt && new Date(startedAt.getTime() + seconds * MS_PER_S)
  return insertCorrection(db, {
    ...key,
    siteId,
    id: newId(),
    startS,
    endS,
    startAt: clock(startS),
    endAt: clock(endS),
    kind,
    author: said(correction.author),
    reason: said(correction.reason),
  })
}
