import { randomUUID } from 'node:crypto'
import { expect, it } from 'vitest'
import {
  deleteCorrection,
  insertCorrection,
  listCorrections,
  listMachineCorrections,
} from '@/db/queries/corrections'
import { deleteLog } from '@/db/queries/logs'
import { onBothDatabases } from '../databases'
import { newLog, newMachine } from '../fixtures'

const said = { startS: 1.5, endS: 20.25, kind: 'work-holding' as const, author: null, reason: null }
const undated = { startAt: null, endAt: null }

onBothDatabases('queries/corrections', (opened) => {
  it('keep what was said as it was said, in the order it was said', async () => {
    const { db } = opened()
    const key = await newLog(db, await newMachine(db))
    const startAt = new Date('2026-03-01T06:00:01.500Z')
    const endAt = new Date('2026-03-01T06:00:20.250Z')
    // Ids fall while time goes on: the order is that of time.
    const first = { ...key, ...said, id: 'z', startAt, endAt, author: 'A. Fitter', reason: 'the clamp held' }
    expect(await insertCorrection(db, first)).toMatchObject(first)
    await insertCorrection(db, { ...key, ...said, ...undated, id: 'm', kind: 'stopped' })
    await insertCorrection(db, { ...key, ...said, ...undated, id: 'a' })
    const listed = await listCorrections(db, key)
    expect(listed.map(({ id }) => id)).toEqual(['z', 'm', 'a'])
    expect(listed[0]).toMatchObject(first)
    expect(listed[1]).toMatchObject({ kind: 'stopped', author: null, reason: null, startAt: null })
    expect(listed[0].createdAt).toBeInstanceOf(Date)
  })

  it('know each log’s own, and a machine’s together', async () => {
    const { db } = opened()
    const machineId = await newMachine(db)
    const [one, other] = [await newLog(db, machineId), await newLog(db, machineId)]
    const elsewhere = await newLog(db, await newMachine(db))
    for (const key of [one, other, elsewhere])
      await insertCorrection(db, { ...key, ...said, ...undated, id: 'same-id' })
    expect(await listCorrections(db, one)).toHaveLength(1)
    const all = await listMachineCorrections(db, machineId)
    expect(all.map(({ logId }) => logId)).toEqual([one.logId, other.logId])
  })

  it('take one back once, and only of its own log', async () => {
    const { db } = opened()
    const machineId = await newMachine(db)
    const [key, other] = [await newLog(db, machineId), await newLog(db, machineId)]
    const id = randomUUID()
    await insertCorrection(db, { ...key, ...said, ...undated, id })
    expect(await deleteCorrection(db, other, id)).toBe(false)
    expect(await deleteCorrection(db, key, id)).toBe(true)
    expect(await deleteCorrection(db, key, id)).toBe(false)
    expect(await listCorrections(db, key)).toEqual([])
  })

  it('go with their log', async () => {
    const { db } = opened()
    const key = await newLog(db, await newMachine(db))
    await insertCorrection(db, { ...key, ...said, ...undated, id: randomUUID() })
    await deleteLog(db, key)
    expect(await listCorrections(db, key)).toEqual([])
  })
})
