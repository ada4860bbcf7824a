import { inWorker } from '@/app/_jobs/in-worker'
import { answersOf, machineAsRead } from '@/app/_jobs/inputs'
import { filesOf } from '@/app/_jobs/task'
import { removeTempFile } from '@/app/_jobs/temp-file'
import { askedReading, readingOf } from '@/app/_server/asked-reading'
import { database } from '@/app/_server/database'
import { needMachine } from '@/app/_server/find-log'
import { inspectionAnswer, spanOfUnderstood, surveyAnswer } from '@/app/_server/inspection-answer'
import { receiveUpload } from '@/app/_server/receive-upload'
import { json, refusalResponse, route } from '@/app/_server/route'
import { findLogBySha, listOverlapping } from '@/db/queries/logs'
import { siteSettings } from '@/db/queries/sites'

export const dynamic = 'force-dynamic'

/** Says what would be understood of a file and what it leaves open, and stores nothing. */
export const POST = route('write', async (request) => {
  const machineId = new URL(request.url).searchParams.get('machine')
  const asked = askedReading(request)
  const db = await database()
  const machine = machineId ? await needMachine(db, machineId) : null
  const { timeZone } = await siteSettings(db, machine?.siteId)
  const { file, sha256 } = await receiveUpload(request)
  try {
    // Without a machine nothing is remembered.
    const wanted = machine ? asked : { ...asked, layout: null }
    const reading = await readingOf(db, machine?.id ?? '', wanted, file)
    const config = machineAsRead(machine?.config ?? null, reading?.reading)
    const answers = answersOf(reading?.reading)
    const inspected = await inWorker({ kind: 'inspect', file, machine: config, timeZone, answers })
    const { survey, understood } = inspected
    if (!understood) return refusalResponse(inspected.refusal, surveyAnswer(survey, reading))
    const same = machine ? await findLogBySha(db, machine.id, sha256) : null
    const when = spanOfUnderstood(understood)
    const overlaps = machine && when ? await listOverlapping(db, machine.id, when.from, when.to) : []
    const context = {
      fileName: file.fileName,
      reading,
      declared: config?.channels ?? [],
      timeZone,
      now: new Date(),
      same: same?.state === 'failed' ? null : same,
      overlaps: overlaps.filter((row) => row.sha256 !== sha256),
    }
    return json(inspectionAnswer(survey, understood, context))
  } finally {
    for (const { path } of filesOf(file)) await removeTempFile(path)
  }
})
