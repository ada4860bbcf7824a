import { inWorker } from '@/app/_jobs/in-worker'
import { removeTempFile } from '@/app/_jobs/temp-file'
import { database } from '@/app/_server/database'
import { needMachine } from '@/app/_server/find-log'
import { inspectionAnswer } from '@/app/_server/inspection-answer'
import { receiveUpload } from '@/app/_server/receive-upload'
import { json, route } from '@/app/_server/route'
import { findLogBySha } from '@/db/queries/logs'
import { siteSettings } from '@/db/queries/sites'

export const dynamic = 'force-dynamic'

/** Says what would be understood of a file, and stores nothing. */
export const POST = route('write', async (request) => {
  const machineId = new URL(request.url).searchParams.get('machine')
  const db = await database()
  const machine = machineId ? await needMachine(db, machineId) : null
  const { timeZone } = await siteSettings(db, machine?.siteId)
  const { file, sha256 } = await receiveUpload(request)
  try {
    const task = { kind: 'inspect' as const, file, machine: machine?.config ?? null, timeZone }
    const inspected = await inWorker(task)
    const same = machine ? await findLogBySha(db, machine.id, sha256) : null
    return json(inspectionAnswer(file.fileName, inspected, same?.state === 'failed' ? null : same))
  } finally {
    await removeTempFile(file.path)
  }
})
