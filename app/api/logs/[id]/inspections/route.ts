import { inWorker } from '@/app/_jobs/in-worker'
import { answersOf, machineAsRead } from '@/app/_jobs/inputs'
import { withStoredFiles } from '@/app/_jobs/reread-log'
import { storable } from '@/app/_jobs/storable'
import { ApiProblem } from '@/app/_server/api-problem'
import { checkReading } from '@/app/_server/asked-reading'
import { database } from '@/app/_server/database'
import { needLog, needMachine } from '@/app/_server/find-log'
import { inspectionAnswer, surveyAnswer } from '@/app/_server/inspection-answer'
import { readJson } from '@/app/_server/read-json'
import { json, refusalResponse, route } from '@/app/_server/route'
import { siteSettings } from '@/db/queries/sites'
import { readingSchema } from '@/lib/contract/reading'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
}

/** Says what would be understood of a stored log's files if they were read so, and what that leaves open; changes nothing. */
export const POST = route<Params>('write', async (request, { id }) => {
  const reading = checkReading(storable(await readJson(request, readingSchema)))
  const db = await database()
  const row = await needLog(db, id)
  if (row.state !== 'done') throw new ApiProblem('not-ready', { id, state: row.state })
  const { config } = await needMachine(db, row.machineId)
  const { timeZone } = await siteSettings(db, row.siteId)
  const machine = machineAsRead(config, reading)
  const answers = answersOf(reading)
  const inspected = await withStoredFiles(db, row, (file) =>
    inWorker({ kind: 'inspect', file, machine, timeZone, answers }),
  )
  const { survey, understood } = inspected
  const said = { reading, remembered: null }
  if (!understood) return refusalResponse(inspected.refusal, surveyAnswer(survey, said))
  const context = {
    fileName: row.fileName,
    reading: said,
    declared: machine.channels ?? [],
    timeZone,
    now: new Date(),
    same: null,
    overlaps: [],
  }
  return json(inspectionAnswer(survey, understood, context))
})
