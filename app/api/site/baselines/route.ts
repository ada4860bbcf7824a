import { database } from '@/app/_server/database'
import { needMachine } from '@/app/_server/find-log'
import { newBaselineSchema } from '@/app/_server/month-shapes'
import { readJson } from '@/app/_server/read-json'
import { json, route } from '@/app/_server/route'
import type { Database } from '@/db/client'
import { addBaseline, listBaselines } from '@/db/queries/month-baselines'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'

export const dynamic = 'force-dynamic'

async function answer(db: Database) {
  const baselines = await listBaselines(db, DEFAULT_SITE_ID)
  return {
    baselines: baselines.map(({ machineId, fromMonth, untilMonth, author, note, at }) => ({
      machineId,
      from: fromMonth,
      until: untilMonth,
      author,
      note,
      at: at.toISOString(),
    })),
  }
}

/** The months that machines are held against. */
export const GET = route('read', async () => json(await answer(await database())))

/** Marks a machine's baseline, or takes the mark away. */
export const POST = route('write', async (request) => {
  const { machineId, months, author, note } = await readJson(request, newBaselineSchema)
  const db = await database()
  const { siteId } = await needMachine(db, machineId)
  const span = { fromMonth: months?.from ?? null, untilMonth: months?.until ?? null }
  await addBaseline(db, { machineId, siteId, ...span, author, note, at: new Date() })
  return json(await answer(db), { status: 201 })
})
