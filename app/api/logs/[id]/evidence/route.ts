import { addEvidence, evidenceAnswer } from '@/app/_server/add-evidence'
import { database } from '@/app/_server/database'
import { newEvidenceSchema } from '@/app/_server/evidence-shapes'
import { needLog } from '@/app/_server/find-log'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import { listLogEvidence } from '@/db/queries/log-evidence'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
}

/** What was handed in of a log's sensors after its import. */
export const GET = route<Params>('read', async (_request, { id }) => {
  const db = await database()
  const { machineId } = await needLog(db, id)
  const rows = await listLogEvidence(db, { machineId, logId: id })
  return json({ evidence: rows.map(evidenceAnswer) })
})

/** Adds evidence of a sensor to a stored log; nothing that was said before is changed, and no figure. */
export const POST = route<Params>('write', async (request, { id }) => {
  const said = await readJson(request, newEvidenceSchema)
  const db = await database()
  const row = await addEvidence(db, await needLog(db, id), said)
  return json(evidenceAnswer(row), { status: 201 })
})
