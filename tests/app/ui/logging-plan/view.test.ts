import { expect, it } from 'vitest'
import { importLog } from '@/app/_jobs/import-log'
import { loggingPlanView } from '@/app/_server/views/logging-plan-view'
import { readWishes } from '@/app/_ui/logging-plan/wishes'
import { onBothDatabases } from '../../../db/databases'
import { newLog, newMachine } from '../../../db/fixtures'
import { arrivedSample, sampleMachine } from '../../sample-files'

const NAME = 'press-all-sensors'
const wishesFor = (site: Parameters<typeof readWishes>[1]) => readWishes({}, site).wishes

onBothDatabases('the logging plan of a machine', (opened) => {
  it('works with what its logs show, and says what they are', async () => {
    const { db } = opened()
    const machineId = await newMachine(db, sampleMachine(NAME))
    expect(await loggingPlanView(db, 'no-such-machine', wishesFor)).toBeNull()
    const before = await loggingPlanView(db, machineId, wishesFor)
    expect(before).toMatchObject({ logCount: 0, lastStations: null, plan: { mix: { origin: 'assumed' } } })
    expect(before?.plan.scatters.map(({ seen }) => seen)).toEqual([0, 0, 0])

    await importLog(db, await newLog(db, machineId), arrivedSample(`${NAME}.csv`))
    const after = await loggingPlanView(db, machineId, wishesFor)
    expect(after).toMatchObject({ logCount: 1, plan: { mix: { origin: 'log' } } })
    expect(after?.lastStations).toContain('pressure:load')
    const cycles = after?.plan.scatters.find(({ level }) => level === 'cycle')
    expect(cycles?.seen).toBeGreaterThan(5)
    expect(cycles?.seenSd).toBeGreaterThan(0)
    expect(after?.shifts.reduce((sum, { hours }) => sum + hours, 0)).toBeGreaterThan(0.1)
    // Asked for again, nothing is worked out anew.
    expect((await loggingPlanView(db, machineId, wishesFor))?.plan).toBe(after?.plan)
  }, 60_000)
})
