import { copyFileSync, mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { importLog } from '@/app/_jobs/import-log'
import { queueIdle, queueImport, queueRefresh, refreshState } from '@/app/_jobs/queue'
import { staleLogs } from '@/app/_jobs/refresh-machine'
import type { Database } from '@/db/client'
import { findLog } from '@/db/queries/logs'
import { updateMachine } from '@/db/queries/machines'
import { onBothDatabases } from '../../db/databases'
import { newLog, newMachine } from '../../db/fixtures'
import { arrivedSample, sampleMachine } from '../sample-files'

const NAME = 'shear-pump-flow'
const machine = sampleMachine(NAME)
const PATIENCE = { timeout: 30_000 }

const STALE = 3
/** A machine with some logs whose figures are of an earlier nameplate. */
async function withStaleLogs(db: Database): Promise<string> {
  const machineId = await newMachine(db, machine)
  for (let k = 0; k < STALE; k++)
    await importLog(db, await newLog(db, machineId, `file ${k}`), arrivedSample(`${NAME}.csv`))
  await updateMachine(db, machineId, {
    config: { ...machine, motor: { ...machine.motor, ratedEfficiency: 0.9 } },
  })
  expect(await staleLogs(db, machineId)).toHaveLength(STALE)
  return machineId
}

/** A file that came in for another machine; its import removes it. */
async function received(db: Database) {
  const path = join(mkdtempSync(join(tmpdir(), 'tankward-queue-')), 'log.csv')
  const sample = arrivedSample(`${NAME}.csv`)
  copyFileSync(sample.path, path)
  return { key: await newLog(db, await newMachine(db, machine)), file: { ...sample, path } }
}

onBothDatabases('a file that comes in', (opened) => {
  it('goes before logs that wait to be brought up to date', async () => {
    const { db } = opened()
    const machineId = await withStaleLogs(db)
    const { key, file } = await received(db)
    void queueRefresh(db, machineId)
    expect(await queueImport(db, key, file)).toBe(true)
    expect(await staleLogs(db, machineId)).toHaveLength(STALE)
    await queueIdle()
    expect(await staleLogs(db, machineId)).toEqual([])
    expect((await findLog(db, key.logId))?.state).toBe('done')
  })

  it('goes between two of them, and the rest is brought up to date after it', async () => {
    const { db } = opened()
    const machineId = await withStaleLogs(db)
    const { key, file } = await received(db)
    void queueRefresh(db, machineId)
    await expect.poll(() => refreshState(machineId), { ...PATIENCE, interval: 1 }).not.toBeNull()
    expect(await queueImport(db, key, file)).toBe(true)
    expect((await staleLogs(db, machineId)).length).toBeGreaterThan(0)
    await queueIdle()
    expect(await staleLogs(db, machineId)).toEqual([])
  })
})
