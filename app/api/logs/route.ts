import { queueImport } from '@/app/_jobs/queue'
import { removeTempFile } from '@/app/_jobs/temp-file'
import { ApiProblem } from '@/app/_server/api-problem'
import { database } from '@/app/_server/database'
import { needMachine } from '@/app/_server/find-log'
import { newId } from '@/app/_server/new-id'
import { receiveUpload } from '@/app/_server/receive-upload'
import { json, route } from '@/app/_server/route'
import { receiveLog } from '@/db/queries/logs'

export const dynamic = 'force-dynamic'

/** Takes a logger's file for a machine; the import goes on after the answer. */
export const POST = route('write', async (request) => {
  const machineId = new URL(request.url).searchParams.get('machine')
  if (!machineId) throw new ApiProblem('machine-missing')
  const db = await database()
  const machine = await needMachine(db, machineId)
  const { file, sha256, byteLength } = await receiveUpload(request)
  try {
    const log = {
      id: newId(),
      machineId,
      siteId: machine.siteId,
      sha256,
      byteLength,
      fileName: file.fileName,
    }
    const { row, isNew } = await receiveLog(db, log)
    const url = `/api/logs/${row.id}`
    const answer = { id: row.id, machineId, state: row.state, url }
    if (!isNew) {
      await removeTempFile(file.path)
      return json(answer, { headers: { Location: url } })
    }
    // Its outcome is in the log's row; whoever sent the file asks for it there.
    void queueImport(db, { machineId, logId: row.id, siteId: machine.siteId }, file)
    return json(answer, { status: 202, headers: { Location: url } })
  } catch (error) {
    await removeTempFile(file.path)
    throw error
  }
})
