import { eq } from 'drizzle-orm'
import { expect, it } from 'vitest'
import { digestOldAnalyses } from '@/app/_jobs/log-digest'
import { saveMonthTotals } from '@/db/queries/month-totals'
import { analyses } from '@/db/schema/analyses'
import { logDigests } from '@/db/schema/log-digests'
import { machineMonths } from '@/db/schema/machine-months'
import { monthDigests } from '@/db/schema/month-digests'
import type { Analysis } from '@/lib/contract/result'
import { onBothDatabases } from '../../db/databases'
import { newLog, newMachine } from '../../db/fixtures'
import { NO_ENERGY } from '../../invented/no-energy'

const MONTH = '2025-11'

onBothDatabases('analyses stored before there were digests', (opened) => {
  it('whose engine is not understood any more: their months are made once, not with every start', async () => {
    const { db } = opened()
    const machineId = await newMachine(db)
    const key = await newLog(db, machineId)
    await saveMonthTotals(db, key, [{ ...NO_ENERGY, month: MONTH, phaseKind: 'work-moving', seconds: 3600 }])
    const unreadable = { from: 'an engine of long ago' } as unknown as Analysis
    const inputs = { engineVersion: 1, readingInputs: 'then', computingInputs: 'then' }
    await db.insert(analyses).values({ ...key, ...inputs, analysis: unreadable })
    const months = () => db.select().from(machineMonths).where(eq(machineMonths.machineId, machineId))

    await digestOldAnalyses(db)
    const [made] = await months()
    expect(made).toMatchObject({ month: MONTH, runningS: 3600 })
    expect(await db.$count(monthDigests, eq(monthDigests.logId, key.logId))).toBe(1)
    await digestOldAnalyses(db)
    expect(await months()).toEqual([made])
    expect(await db.$count(logDigests, eq(logDigests.logId, key.logId))).toBe(0)
  })
})
