import { eq } from 'drizzle-orm'
import { expect, it } from 'vitest'
import { refreshMachineMonths } from '@/app/_jobs/machine-months'
import { fleetMonths } from '@/app/_server/views/packed-months'
import type { Database } from '@/db/client'
import { saveMonthTotals } from '@/db/queries/month-totals'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { machines } from '@/db/schema/machines'
import { onBothDatabases } from '../../db/databases'
import { newLog, newMachine } from '../../db/fixtures'
import { NO_ENERGY } from '../../invented/no-energy'

/** Laws of what is kept in a process: it is never other than what is stored. They need no source. */
const MONTHS = ['2026-08', '2026-09']
const minuteOf = (month: string) => ({
  ...NO_ENERGY,
  month,
  phaseKind: 'work-moving' as const,
  seconds: 60,
  cycles: 1,
})

/** Stores a log of a minute of each machine, all at one instant. */
async function store(db: Database, machineIds: readonly string[], month: string): Promise<void> {
  const keys = await Promise.all(machineIds.map((id) => newLog(db, id)))
  await db.transaction(async (tx) => {
    for (const key of keys) {
      await saveMonthTotals(tx, key, [minuteOf(month)])
      await refreshMachineMonths(tx, key, [month])
    }
  })
}

/** Cycles of machines, month by month: one a log. */
async function cyclesOf(db: Database, ids: readonly string[]) {
  const found = await fleetMonths(db, DEFAULT_SITE_ID, MONTHS)
  return MONTHS.map((month) => ids.map((id) => found.get(month)?.narrowOf(id)?.cycles ?? null))
}

onBothDatabases('months kept as they were read', (opened) => {
  it('are read again after every log that was stored, and each by itself', async () => {
    const { db } = opened()
    const [a, b] = [await newMachine(db), await newMachine(db)]
    await store(db, [a], '2026-08')
    expect(await cyclesOf(db, [a, b])).toEqual([
      [1, null],
      [null, null],
    ])
    const before = await fleetMonths(db, DEFAULT_SITE_ID, MONTHS)
    // Nothing was written: the very same.
    expect((await fleetMonths(db, DEFAULT_SITE_ID, MONTHS)).get('2026-08')).toBe(before.get('2026-08'))
    await store(db, [b], '2026-09')
    await store(db, [a], '2026-09')
    await store(db, [a], '2026-09')
    expect(await cyclesOf(db, [a, b])).toEqual([
      [1, null],
      [2, 1],
    ])
    expect((await fleetMonths(db, DEFAULT_SITE_ID, MONTHS)).get('2026-08')).toBe(before.get('2026-08'))
    expect(before.get('2026-08')?.has(b)).toBe(false)
  })

  it('are read again where two machines were written at one instant', async () => {
    const { db } = opened()
    const ids = [await newMachine(db), await newMachine(db)]
    for (const cycles of [1, 2, 3]) {
      await store(db, ids, '2026-08')
      expect((await cyclesOf(db, ids))[0]).toEqual([cycles, cycles])
    }
  })

  it('are gone with a machine', async () => {
    const { db } = opened()
    const id = await newMachine(db)
    await store(db, [id], '2026-08')
    expect((await cyclesOf(db, [id]))[0]).toEqual([1])
    await db.delete(machines).where(eq(machines.id, id))
    expect((await cyclesOf(db, [id]))[0]).toEqual([null])
  })
})
