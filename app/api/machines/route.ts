import { createMachine } from '@/app/_server/create-machine'
import { database } from '@/app/_server/database'
import { needMachine } from '@/app/_server/find-log'
import { machineAnswer } from '@/app/_server/machine-answer'
import { machineNotes } from '@/app/_server/machine-notes'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import { listMachines } from '@/db/queries/machines'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { machineSchema } from '@/lib/contract/machine'

export const dynamic = 'force-dynamic'

export const GET = route('read', async () => {
  const rows = await listMachines(await database())
  return json({ machines: rows.map(machineAnswer) })
})

/** Makes a machine from MACHINE.json. */
export const POST = route('write', async (request) => {
  const config = await readJson(request, machineSchema)
  const { line = null, trade = null } = machineNotes(request)
  const db = await database()
  const id = await createMachine(db, { siteId: DEFAULT_SITE_ID, line, trade, config })
  const answer = machineAnswer(await needMachine(db, id))
  return json(answer, { status: 201, headers: { Location: answer.url } })
})
