import { storable } from '@/app/_jobs/storable'
import { checkReading } from '@/app/_server/asked-reading'
import { database } from '@/app/_server/database'
import { needMachine } from '@/app/_server/find-log'
import { newLayoutSchema } from '@/app/_server/inspection-shapes'
import { layoutAnswer } from '@/app/_server/layout-answer'
import { newId } from '@/app/_server/new-id'
import { lasting } from '@/app/_server/questions'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import { listLayouts, saveLayout } from '@/db/queries/layouts'
import { isSameLayout } from '@/lib/contract/layout'

export const dynamic = 'force-dynamic'

interface Params extends Record<string, string> {
  id: string
}

/** How files of known layouts are read for this machine, the latest first. */
export const GET = route<Params>('read', async (_request, { id }) => {
  const db = await database()
  const machine = await needMachine(db, id)
  return json({ layouts: (await listLayouts(db, machine.id)).map(layoutAnswer) })
})

/** Remembers how files of a layout are to be read, in the place of what was remembered of it. */
export const POST = route<Params>('write', async (request, { id }) => {
  const db = await database()
  const machine = await needMachine(db, id)
  const { layout, reading, author, fileName } = storable(await readJson(request, newLayoutSchema))
  const earlier = (await listLayouts(db, machine.id)).filter((row) => isSameLayout(row.layout, layout))
  const row = await saveLayout(
    db,
    {
      machineId: machine.id,
      siteId: machine.siteId,
      id: newId(),
      layout,
      reading: lasting(checkReading(reading)),
      author: author || null,
      fileName: fileName || null,
    },
    earlier.map((one) => one.id),
  )
  const answer = layoutAnswer(row)
  return json(answer, { status: 201, headers: { Location: answer.url } })
})
