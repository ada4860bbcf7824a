import { eq } from 'drizzle-orm'
import { expect, it } from 'vitest'
import { refreshMachineMonths } from '@/app/_jobs/machine-months'
import type { Database } from '@/db/client'
import { saveMonthTotals } from '@/db/queries/month-totals'
import { machineMonths } from '@/db/schema/machine-months'
import type { MonthTotals } from '@/lib/months/rollup'
import { onBothDatabases } from '../../db/databases'
import { newLog, newMachine } from '../../db/fixtures'

/** Laws of summing up: what several imports of one machine store at once is all there. They need no source. */
const MONTH = '2026-09'
const MINUTE: MonthTotals = {
  month: MONTH,
  phaseKind: 'work-moving',
  seconds: 60,
  electricJ: 6e5,
  motorLossJ: 1e5,
  pumpLossJ: 1e5,
  overReliefJ: 0,
  unloadingJ: 0,
  intoSystemJ: 4e5,
  meteringJ: null,
  workJ: null,
  unaccountedJ: 0,
  cost: 0.03,
  cycles: 1,
}
const AT_ONCE = 6

async function store(db: Database, machineId: string): Promise<void> {
  const key = await newLog(db, machineId)
  await db.transaction(async (tx) => {
    await saveMonthTotals(tx, key, [MINUTE])
    await refreshMachineMonths(tx, key, [MONTH])
    // Others begin to sum up while this is not yet there for them to see.
    await new Promise((resolve) => setTimeout(resolve, 50))
  })
}

onBothDatabases('months of a machine', (opened) => {
  it('hold what every one of several imports at once adds to them', async () => {
    const { db } = opened()
    const machineId = await newMachine(db)
    await Promise.all(Array.from({ length: AT_ONCE }, () => store(db, machineId)))
    const rows = await db.select().from(machineMonths).where(eq(machineMonths.machineId, machineId))
    expect(rows).toHaveLength(1)
    expect(rows[0].summary.cycles).toBe(AT_ONCE * MINUTE.cycles)
  })
})
