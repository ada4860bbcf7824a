import { randomUUID } from 'node:crypto'
import { expect, it } from 'vitest'
import {
  deleteLayout,
  findLayout,
  listLayouts,
  type NewLayout,
  saveLayout,
  touchLayout,
} from '@/db/queries/layouts'
import { deleteMachine } from '@/db/queries/machines'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import type { Layout } from '@/lib/contract/layout'
import { onBothDatabases } from '../databases'
import { newMachine } from '../fixtures'

const LAYOUT: Layout = {
  delimiter: ';',
  header: ['Zeit', 'p1 [bar]'],
  units: [null, 'bar'],
  kinds: ['time', 'number'],
}

const newLayout = (machineId: string): NewLayout => ({
  machineId,
  siteId: DEFAULT_SITE_ID,
  id: randomUUID(),
  layout: LAYOUT,
  reading: { dayOrder: 'day-first', startedAt: null },
  author: 'A. Fitter',
  fileName: 'früh.csv',
})

onBothDatabases('layouts', (opened) => {
  it('come back as they were said, the latest first, and are marked when used', async () => {
    const { db } = opened()
    const machineId = await newMachine(db)
    const first = await saveLayout(db, newLayout(machineId), [])
    const second = await saveLayout(db, { ...newLayout(machineId), author: null }, [])
    expect((await listLayouts(db, machineId)).map(({ id }) => id)).toEqual([second.id, first.id])
    const found = await findLayout(db, machineId, first.id)
    expect(found).toMatchObject({
      layout: LAYOUT,
      reading: { dayOrder: 'day-first', startedAt: null },
      author: 'A. Fitter',
      usedAt: null,
    })
    await touchLayout(db, machineId, first.id)
    expect((await findLayout(db, machineId, first.id))?.usedAt).toBeInstanceOf(Date)
  })

  it('take the place of earlier ones, and of no other machine’s', async () => {
    const { db } = opened()
    const [mine, others] = [await newMachine(db), await newMachine(db)]
    const earlier = await saveLayout(db, newLayout(mine), [])
    const foreign = await saveLayout(db, newLayout(others), [])
    const later = await saveLayout(db, newLayout(mine), [earlier.id, foreign.id])
    expect((await listLayouts(db, mine)).map(({ id }) => id)).toEqual([later.id])
    expect((await listLayouts(db, others)).map(({ id }) => id)).toEqual([foreign.id])
  })

  it('are forgotten one by one, and with their machine', async () => {
    const { db } = opened()
    const machineId = await newMachine(db)
    const one = await saveLayout(db, newLayout(machineId), [])
    expect(await deleteLayout(db, await newMachine(db), one.id)).toBe(false)
    expect(await deleteLayout(db, machineId, one.id)).toBe(true)
    expect(await deleteLayout(db, machineId, one.id)).toBe(false)
    await saveLayout(db, newLayout(machineId), [])
    await deleteMachine(db, machineId)
    expect(await listLayouts(db, machineId)).toEqual([])
  })
})
