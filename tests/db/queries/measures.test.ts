import { randomUUID } from 'node:crypto'
import { expect, it } from 'vitest'
import type { Database } from '@/db/client'
import { deleteMachine } from '@/db/queries/machines'
import {
  addMeasureEvent,
  findMeasure,
  insertMeasure,
  insertMeasureQuote,
  listMeasureEvents,
  listMeasureQuotes,
  listMeasures,
  updateMeasure,
} from '@/db/queries/measures'
import { deleteProduction, listProduction, saveProduction } from '@/db/queries/production'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { deleteTrial, insertTrial, listMachineTrials } from '@/db/queries/trials'
import { proofSetupSchema } from '@/lib/contract/proof'
import { BALER } from '../../invented/baler'
import { onBothDatabases } from '../databases'
import { newLog, newMachine } from '../fixtures'

async function newMeasure(db: Database, machineId: string, owner: string | null = null) {
  const id = randomUUID()
  const measure = { machineId, id, siteId: DEFAULT_SITE_ID, optionId: null, title: 'Vent the relief' }
  await insertMeasure(
    db,
    {
      ...measure,
      state: 'proposed',
      owner,
      notes: null,
      expected: null,
      machineThen: BALER,
      setup: proofSetupSchema.parse({}),
    },
    { on: '2026-08-20', reason: null, author: 'A. Fitter' },
  )
  return { machineId, measureId: id, siteId: DEFAULT_SITE_ID }
}

const step = { on: '2026-08-24', reason: null, author: null, proof: null }

onBothDatabases('queries/measures', (opened) => {
  it('keep every step, one behind the other; the state is that of the last', async () => {
    const { db } = opened()
    const key = await newMeasure(db, await newMachine(db))
    expect(await addMeasureEvent(db, key, 1, { ...step, state: 'approved' })).toBe(true)
    expect(await addMeasureEvent(db, key, 2, { ...step, state: 'rejected', reason: 'too dear' })).toBe(true)
    const events = await listMeasureEvents(db, key)
    expect(events.map(({ seq, state }) => [seq, state])).toEqual([
      [1, 'proposed'],
      [2, 'approved'],
      [3, 'rejected'],
    ])
    expect((await findMeasure(db, key.measureId))?.state).toBe('rejected')
  })

  it('take no step behind one that the caller has not seen', async () => {
    const { db } = opened()
    const key = await newMeasure(db, await newMachine(db))
    expect(await addMeasureEvent(db, key, 1, { ...step, state: 'approved' })).toBe(true)
    expect(await addMeasureEvent(db, key, 1, { ...step, state: 'rejected' })).toBe(false)
    expect((await findMeasure(db, key.measureId))?.state).toBe('approved')
    expect(await listMeasureEvents(db, key)).toHaveLength(2)
  })

  it('are listed with their machine and latest step, by state, machine and owner', async () => {
    const { db } = opened()
    const machineId = await newMachine(db)
    const one = await newMeasure(db, machineId, 'B. Planner')
    const other = await newMeasure(db, machineId)
    await addMeasureEvent(db, one, 1, { ...step, state: 'approved', reason: 'cheap' })
    const all = await listMeasures(db, { machineId })
    expect(all.map(({ id }) => id).sort()).toEqual([one.measureId, other.measureId].sort())
    const [approved] = await listMeasures(db, { machineId, state: 'approved' })
    expect(approved).toMatchObject({ id: one.measureId, machineName: BALER.name })
    expect(approved.lastEvent).toMatchObject({ seq: 2, reason: 'cheap' })
    expect(await listMeasures(db, { machineId, owner: 'B. Planner' })).toHaveLength(1)
    expect(await listMeasures(db, { siteId: 'elsewhere' })).toEqual([])
  })

  it('may be given another owner and set-up of the proof', async () => {
    const { db } = opened()
    const key = await newMeasure(db, await newMachine(db))
    const setup = proofSetupSchema.parse({ driver: 'production' })
    expect(await updateMeasure(db, key, { owner: 'C. Buyer', setup })).toBe(true)
    expect(await findMeasure(db, key.measureId)).toMatchObject({ owner: 'C. Buyer', setup, notes: null })
    expect(await updateMeasure(db, { ...key, measureId: 'none' }, { owner: null })).toBe(false)
  })

  it('go with their machine, quotes and all', async () => {
    const { db } = opened()
    const key = await newMeasure(db, await newMachine(db))
    const quote = { ...key, id: randomUUID(), text: 'vent valve', amount: 900, currency: 'EUR' }
    await insertMeasureQuote(db, { ...quote, on: '2026-08-21' })
    expect(await listMeasureQuotes(db, key)).toMatchObject([{ amount: 900, on: '2026-08-21' }])
    await deleteMachine(db, key.machineId)
    expect(await findMeasure(db, key.measureId)).toBeNull()
    expect(await listMeasureEvents(db, key)).toEqual([])
    expect(await listMeasureQuotes(db, key)).toEqual([])
  })

  it('know the pieces of a log, the last count in force', async () => {
    const { db } = opened()
    const key = await newLog(db, await newMachine(db))
    await saveProduction(db, key, { pieces: 120, note: null, author: null })
    await saveProduction(db, key, { pieces: 118, note: 'two scrapped', author: null })
    expect(await listProduction(db, key.machineId)).toMatchObject([{ logId: key.logId, pieces: 118 }])
    expect(await deleteProduction(db, key)).toBe(true)
    expect(await deleteProduction(db, key)).toBe(false)
  })

  it('know trials until they are taken back', async () => {
    const { db } = opened()
    const key = await newLog(db, await newMachine(db))
    const said = { atS: 600, cycles: 10, measureId: null, note: null, author: null }
    const { id } = await insertTrial(db, { ...key, ...said, id: randomUUID() })
    expect(await listMachineTrials(db, key.machineId)).toMatchObject([{ id, atS: 600 }])
    expect(await deleteTrial(db, key, id)).toBe(true)
    expect(await listMachineTrials(db, key.machineId)).toEqual([])
  })
})
