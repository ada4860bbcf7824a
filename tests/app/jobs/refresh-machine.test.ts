import { randomUUID } from 'node:crypto'
import { expect, it } from 'vitest'
import { importLog } from '@/app/_jobs/import-log'
import { queueIdle, queueRefresh } from '@/app/_jobs/queue'
import { staleLogs } from '@/app/_jobs/refresh-machine'
import type { Database } from '@/db/client'
import { findAnalysis } from '@/db/queries/analyses'
import { findLog } from '@/db/queries/logs'
import { updateMachine } from '@/db/queries/machines'
import { saveSite } from '@/db/queries/sites'
import type { Machine } from '@/lib/contract/machine'
import { siteSchema } from '@/lib/contract/site'
import { onBothDatabases } from '../../db/databases'
import { newLog, newMachine } from '../../db/fixtures'
import { arrivedSample, sampleMachine } from '../sample-files'

const NAME = 'shear-pump-flow'
const machine = sampleMachine(NAME)

/** The log of a machine made with this set-up, and its analysis. */
async function imported(db: Database, config: Machine) {
  const machineId = await newMachine(db, config)
  const key = await newLog(db, machineId, randomUUID())
  await importLog(db, key, arrivedSample(`${NAME}.csv`))
  return { machineId, key, analysis: (await findAnalysis(db, key))?.analysis ?? expect.fail('not stored') }
}

onBothDatabases('refreshing a machine', (opened) => {
  it('does nothing where nothing changed', async () => {
    const { db } = opened()
    const { machineId } = await imported(db, machine)
    await updateMachine(db, machineId, { config: structuredClone(machine), line: 'elsewhere' })
    expect(await staleLogs(db, machineId)).toEqual([])
  })

  it('gives from stored samples what a fresh import gives with the new nameplate', async () => {
    const { db } = opened()
    const changed = { ...machine, motor: { ...machine.motor, ratedEfficiency: 0.9 } }
    const wanted = await imported(db, changed)
    const old = await imported(db, machine)
    expect(old.analysis).not.toEqual(wanted.analysis)
    await updateMachine(db, old.machineId, { config: changed })
    expect(await staleLogs(db, old.machineId)).toMatchObject([{ needsReading: false }])
    // Asked twice, done once.
    void queueRefresh(db, old.machineId)
    void queueRefresh(db, old.machineId)
    await queueIdle()
    expect((await findAnalysis(db, old.key))?.analysis).toEqual(wanted.analysis)
    expect(await staleLogs(db, old.machineId)).toEqual([])
  })

  it('reads the kept file again where a column is declared otherwise', async () => {
    const { db } = opened()
    const [first, ...others] = machine.channels ?? expect.fail('the sample declares its channels')
    const accuracy = { percentOfReading: 3 }
    const changed = { ...machine, channels: [{ ...first, accuracy }, ...others] }
    const wanted = await imported(db, changed)
    const old = await imported(db, machine)
    await updateMachine(db, old.machineId, { config: changed })
    expect(await staleLogs(db, old.machineId)).toMatchObject([{ needsReading: true }])
    await queueRefresh(db, old.machineId)
    expect((await findAnalysis(db, old.key))?.analysis).toEqual(wanted.analysis)
    expect((await findLog(db, old.key.logId))?.channels?.[0]).toMatchObject({ accuracy })
  })

  it('keeps the earlier figures, and says so, where the new set-up cannot be used with the log', async () => {
    const { db } = opened()
    const old = await imported(db, machine)
    const lost = { column: 'Not there', quantity: 'pressure' as const, location: 'pump-outlet' as const }
    await updateMachine(db, old.machineId, { config: { ...machine, channels: [{ ...lost, unit: 'bar' }] } })
    await queueRefresh(db, old.machineId)
    expect((await findAnalysis(db, old.key))?.analysis).toEqual(old.analysis)
    expect(await findLog(db, old.key.logId)).toMatchObject({
      state: 'done',
      error: { code: 'channel-column-not-found' },
    })
    await updateMachine(db, old.machineId, { config: machine })
    await queueRefresh(db, old.machineId)
    expect(await staleLogs(db, old.machineId)).toEqual([])
  })

  it('counts cost anew after the price changed', async () => {
    const { db } = opened()
    const { machineId, key, analysis } = await imported(db, machine)
    await saveSite(db, siteSchema.parse({ energyPricePerKWh: 0.4 }))
    await queueRefresh(db, machineId)
    const found = await findAnalysis(db, key)
    expect(found?.analysis.site.energyPricePerKWh).toBe(0.4)
    const ratio = (found?.analysis.idle.costPerYear.value ?? 0) / analysis.idle.costPerYear.value
    expect(ratio).toBeCloseTo(0.4 / analysis.site.energyPricePerKWh, 6)
  })

  it('leaves a log the sensors that it was imported with, whatever is fitted since', async () => {
    const { db } = opened()
    const [first, ...others] = machine.channels ?? []
    const fitted = (serialNumber: string, accuracy: { percentOfReading: number }): Machine => ({
      ...machine,
      channels: [{ ...first, accuracy, evidence: { serialNumber } }, ...others],
    })
    const { machineId, key } = await imported(db, fitted('P-1', { percentOfReading: 1 }))
    await updateMachine(db, machineId, { config: fitted('P-2', { percentOfReading: 2 }) })
    expect(await staleLogs(db, machineId)).toMatchObject([{ needsReading: true }])
    await queueRefresh(db, machineId)
    const [channel] = (await findLog(db, key.logId))?.report?.channels ?? []
    expect(channel).toMatchObject({ accuracy: { percentOfReading: 2 }, evidence: { serialNumber: 'P-1' } })
    expect((await findAnalysis(db, key))?.analysis.log.channels[0].evidence).toEqual({ serialNumber: 'P-1' })
  })
})
