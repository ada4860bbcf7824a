import { ApiProblem } from '@/app/_server/api-problem'
import { database } from '@/app/_server/database'
import { needMachine } from '@/app/_server/find-log'
import { route } from '@/app/_server/route'
import { deleteLayout } from '@/db/queries/layouts'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
  layout: string
}

/** Forgets a layout; logs that were read by it stay as they are. */
export const DELETE = route<Params>('write', async (_request, { id, layout }) => {
  const db = await database()
  const machine = await needMachine(db, id)
  if (!(await deleteLayout(db, machine.id, layout)))
    throw new ApiProblem('unknown-layout', { machine: machine.id, id: layout })
  return new Response(null, { status: 204 })
})
