import { logFault } from '@/app/_jobs/log-fault'
import { queueRefresh } from '@/app/_jobs/queue'
import { ApiProblem } from '@/app/_server/api-problem'
import { database } from '@/app/_server/database'
import { needMachine } from '@/app/_server/find-log'
import { machineAnswer } from '@/app/_server/machine-answer'
import { machineNotes } from '@/app/_server/machine-notes'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import { deleteMachine, updateMachine } from '@/db/queries/machines'
import { machineSchema } from '@/lib/contract/machine'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
}

export const GET = route<Params>('read', async (_request, { id }) =>
  json(machineAnswer(await needMachine(await database(), id))),
)

/** Changes a machine's set-up; its logs are brought up to date with it after the answer. */
export const PUT = route<Params>('write', async (request, { id }) => {
  const config = await readJson(request, machineSchema)
  const db = await database()
  if (!(await updateMachine(db, id, { config, ...machineNotes(request) })))
    throw new ApiProblem('unknown-machine', { id })
  queueRefresh(db, id).catch((error) => logFault(`refresh of machine ${id} failed`, error))
  return json(machineAnswer(await needMachine(db, id)))
})

/** Deletes a machine with all its logs. */
export const DELETE = route<Params>('write', async (_request, { id }) => {
  if (!(await deleteMachine(await database(), id))) throw new ApiProblem('unknown-machine', { id })
  return new Response(null, { status: 204 })
})
