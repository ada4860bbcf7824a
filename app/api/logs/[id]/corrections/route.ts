import { logFault } from '@/app/_jobs/log-fault'
import { queueRefresh, refreshState } from '@/app/_jobs/queue'
import { addCorrection } from '@/app/_server/add-correction'
import { correctionAnswer, correctionAnswers, isUpToDate } from '@/app/_server/correction-answer'
import { database } from '@/app/_server/database'
import { needLog } from '@/app/_server/find-log'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import { newCorrectionSchema } from '@/app/_server/shapes'
import { findAnalysis } from '@/db/queries/analyses'
import { listCorrections } from '@/db/queries/corrections'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
}

/** What people say of a log's stretches, what it does, and how far the figures are with it. */
export const GET = route<Params>('read', async (_request, { id }) => {
  const db = await database()
  const { machineId } = await needLog(db, id)
  const key = { machineId, logId: id }
  const rows = await listCorrections(db, key)
  const applied = (await findAnalysis(db, key))?.analysis.corrections ?? []
  return json({
    corrections: correctionAnswers(rows, applied),
    upToDate: isUpToDate(rows, applied),
    refresh: refreshState(machineId),
  })
})

/** Corrects a stretch; the log's figures are brought up to date after the answer. */
export const POST = route<Params>('write', async (request, { id }) => {
  const correction = await readJson(request, newCorrectionSchema)
  const db = await database()
  const log = await needLog(db, id)
  const row = await addCorrection(db, log, correction)
  queueRefresh(db, log.machineId).catch((error) => logFault(`refresh of log ${id} failed`, error))
  const answer = correctionAnswer(row, null)
  return json(answer, { status: 201, headers: { Location: answer.url } })
})
