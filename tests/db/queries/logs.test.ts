import { randomUUID } from 'node:crypto'
import { expect, it } from 'vitest'
import {
  deleteLog,
  failDeadImports,
  failLog,
  findLog,
  finishLog,
  type LogFacts,
  listDoneLogs,
  listLogs,
  noteLogError,
  receiveLog,
  setLogProgress,
  touchLogs,
} from '@/db/queries/logs'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { onBothDatabases } from '../databases'
import { newLog, newMachine } from '../fixtures'

const facts = (startedAt: Date | null): LogFacts => ({
  startedAt,
  endedAt: startedAt,
  durationS: 12.5,
  sampleIntervalS: 0.1,
  sampleCount: 125,
  rowsRead: 126,
  rowsUsed: 125,
  rowsRejected: 1,
  channels: [],
  report: null,
})

onBothDatabases('queries/logs', (opened) => {
  it('enter the same file of a machine once, and for another machine again', async () => {
    const { db } = opened()
    const [one, other] = [await newMachine(db), await newMachine(db)]
    const sha256 = randomUUID()
    const enter = (machineId: string) =>
      receiveLog(db, {
        id: randomUUID(),
        machineId,
        siteId: DEFAULT_SITE_ID,
        sha256,
        fileName: 'a.csv',
        byteLength: 5_000_000_000,
      })
    const first = await enter(one)
    expect(first).toMatchObject({ isNew: true, row: { state: 'received', byteLength: 5_000_000_000 } })
    expect(await enter(one)).toMatchObject({ isNew: false, row: { id: first.row.id } })
    expect(await enter(other)).toMatchObject({ isNew: true })
    expect(await listLogs(db, one)).toHaveLength(1)
  })

  it('enter the same file once however many send it at the same time', async () => {
    const { db } = opened()
    const machineId = await newMachine(db)
    const sha256 = randomUUID()
    const file = { machineId, siteId: DEFAULT_SITE_ID, sha256, fileName: 'a.csv', byteLength: 1 }
    const all = await Promise.all(
      Array.from({ length: 8 }, () => receiveLog(db, { id: randomUUID(), ...file })),
    )
    expect(all.filter(({ isNew }) => isNew)).toHaveLength(1)
    expect(new Set(all.map(({ row }) => row.id)).size).toBe(1)
  })

  it('take a failed file up again under its old id', async () => {
    const { db } = opened()
    const machineId = await newMachine(db)
    const key = await newLog(db, machineId, 'again')
    await failLog(db, key, { code: 'no-samples', values: { file: 'log.csv' } })
    expect(await findLog(db, key.logId)).toMatchObject({ state: 'failed', error: { code: 'no-samples' } })
    const file = { machineId, siteId: DEFAULT_SITE_ID, sha256: 'again', fileName: 'b.csv', byteLength: 9 }
    const { row, isNew } = await receiveLog(db, { id: randomUUID(), ...file })
    expect(isNew).toBe(true)
    expect(row).toMatchObject({ id: key.logId, state: 'received', error: null, fileName: 'b.csv' })
  })

  it('keep an ended log as it ended, whatever comes late', async () => {
    const { db } = opened()
    const key = await newLog(db, await newMachine(db))
    await setLogProgress(db, key, 'reading', 0.25)
    expect(await findLog(db, key.logId)).toMatchObject({ state: 'reading', progress: 0.25 })
    expect(await finishLog(db, key, facts(null))).toMatchObject({ id: key.logId, state: 'done' })
    await setLogProgress(db, key, 'storing', 0.5)
    await failLog(db, key, { code: 'internal', values: {} })
    expect(await findLog(db, key.logId)).toMatchObject({
      state: 'done',
      progress: 1,
      error: null,
      rowsUsed: 125,
    })
  })

  it('note with a stored log that its figures could not be brought up to date', async () => {
    const { db } = opened()
    const key = await newLog(db, await newMachine(db))
    await finishLog(db, key, facts(null))
    await noteLogError(db, key, { code: 'needs-pump-pressure', values: {} })
    expect(await findLog(db, key.logId)).toMatchObject({
      state: 'done',
      error: { code: 'needs-pump-pressure' },
    })
    await noteLogError(db, key, null)
    expect(await findLog(db, key.logId)).toMatchObject({ state: 'done', error: null })
  })

  it('mark imports without a sign of life as interrupted, and leave the living and the ended', async () => {
    const { db } = opened()
    const machineId = await newMachine(db)
    const [dead, alive, done] = [
      await newLog(db, machineId),
      await newLog(db, machineId),
      await newLog(db, machineId),
    ]
    await finishLog(db, done, facts(null))
    await new Promise((resolve) => setTimeout(resolve, 30))
    // The database's clock, as the rows have it: the last of them was entered before this instant.
    await touchLogs(db, [alive.logId])
    const sign = (await findLog(db, alive.logId))?.updatedAt ?? new Date(0)
    expect(await failDeadImports(db, sign)).toBeGreaterThanOrEqual(1)
    expect(await findLog(db, dead.logId)).toMatchObject({ state: 'failed', error: { code: 'interrupted' } })
    expect(await findLog(db, alive.logId)).toMatchObject({ state: 'received' })
    expect(await findLog(db, done.logId)).toMatchObject({ state: 'done' })
  })

  it('list a machine’s logs, latest recording first and undated ones last; stored ones earliest first', async () => {
    const { db } = opened()
    const machineId = await newMachine(db)
    const [undated, early, late] = [
      await newLog(db, machineId),
      await newLog(db, machineId),
      await newLog(db, machineId),
    ]
    await finishLog(db, early, facts(new Date('2026-03-01T06:00:00.125Z')))
    await finishLog(db, late, facts(new Date('2026-03-02T06:00:00Z')))
    const ids = (await listLogs(db, machineId)).map(({ id }) => id)
    expect(ids).toEqual([late.logId, early.logId, undated.logId])
    const done = await listDoneLogs(db, machineId)
    expect(done.map(({ id }) => id)).toEqual([early.logId, late.logId])
    expect(done[0].startedAt?.toISOString()).toBe('2026-03-01T06:00:00.125Z')
  })

  it('know nothing of a log that was deleted', async () => {
    const { db } = opened()
    const key = await newLog(db, await newMachine(db))
    expect(await deleteLog(db, key)).toBe(true)
    expect(await deleteLog(db, key)).toBe(false)
    expect(await finishLog(db, key, facts(null))).toBeNull()
    expect(await findLog(db, key.logId)).toBeNull()
  })
})
