import { queueImport } from '@/app/_jobs/queue'
import { filesOf } from '@/app/_jobs/task'
import { removeTempFile } from '@/app/_jobs/temp-file'
import { ApiProblem } from '@/app/_server/api-problem'
import { askedReading, readingOf } from '@/app/_server/asked-reading'
import { database } from '@/app/_server/database'
import { needLog, needMachine } from '@/app/_server/find-log'
import { newId } from '@/app/_server/new-id'
import { receiveUpload } from '@/app/_server/receive-upload'
import { json, route } from '@/app/_server/route'
import { touchLayout } from '@/db/queries/layouts'
import { receiveLog } from '@/db/queries/logs'

export const dynamic = 'force-dynamic'

const LONGEST_NAME = 400

/** Takes a logger's file for a machine; the import goes on after the answer. */
export const POST = route('write', async (request) => {
  const { searchParams } = new URL(request.url)
  const machineId = searchParams.get('machine')
  if (!machineId) throw new ApiProblem('machine-missing')
  const db = await database()
  const machine = await needMachine(db, machineId)
  const asked = askedReading(request)
  const replaces = searchParams.get('replaces') || null
  if (replaces && (await needLog(db, replaces)).machineId !== machine.id)
    throw new ApiProblem('unknown-log', { id: replaces })
  const { file, sha256, byteLength, parts } = await receiveUpload(request)
  const removeFiles = async () => {
    for (const { path } of filesOf(file)) await removeTempFile(path)
  }
  try {
    const reading = await readingOf(db, machine.id, asked, file)
    const log = {
      id: newId(),
      machineId,
      siteId: machine.siteId,
      sha256,
      byteLength,
      fileName: parts
        ? parts
            .map(({ fileName }) => fileName)
            .join(' + ')
            .slice(0, LONGEST_NAME)
        : file.fileName,
      parts,
      reading,
      replaces,
    }
    const { row, isNew } = await receiveLog(db, log)
    const url = `/api/logs/${row.id}`
    const answer = { id: row.id, machineId, state: row.state, url }
    if (!isNew) {
      await removeFiles()
      return json(answer, { headers: { Location: url } })
    }
    if (reading?.remembered) await touchLayout(db, machine.id, reading.remembered.id)
    // Its outcome is in the log's row; whoever sent the file asks for it there.
    void queueImport(db, { machineId, logId: row.id, siteId: machine.siteId }, file)
    return json(answer, { status: 202, headers: { Location: url } })
  } catch (error) {
    await removeFiles()
    throw error
  }
})
