import { eq } from 'drizzle-orm'
import { expect, it } from 'vitest'
import { isSuspicious } from '@/app/_server/views/is-suspicious'
import { logsByMachine, MOST_TOLD } from '@/app/_server/views/month-logs'
import { monthPage } from '@/app/_server/views/month-page'
import type { Database } from '@/db/client'
import { saveLogDigest } from '@/db/queries/log-digests'
import { saveMonthDigests } from '@/db/queries/month-digests'
import { saveMonthTotals } from '@/db/queries/month-totals'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { countMonthLogs } from '@/db/queries/views-quality'
import type { LogFigures } from '@/db/schema/log-digests'
import { logs } from '@/db/schema/logs'
import { onBothDatabases } from '../../db/databases'
import { newLog, newMachine } from '../../db/fixtures'
import { NO_ENERGY } from '../../invented/no-energy'

const MONTH = '2026-03'
const FIGURES = {} as LogFigures

/** A log of a month of which so much was wrong. */
async function logWith(db: Database, machineId: string, count: number, modelTrusted: boolean, month = MONTH) {
  const key = await newLog(db, machineId)
  const problems = Array.from({ length: count }, (_, line) => ({
    code: 'unreadable-cell' as const,
    line,
    column: 'q',
    count: 1,
    values: { empty: 1 },
  }))
  await saveMonthTotals(db, key, [{ ...NO_ENERGY, month, phaseKind: 'work-moving', seconds: 60 }])
  const digest = { figures: FIGURES, modelTrusted, problems, best: null, choices: [], cautions: {} }
  const saveMonths = () =>
    saveMonthDigests(db, key, [
      { month, runningS: 60, electricJ: 0, idleJ: 0, wasteJ: 0, cost: 0, cycles: 0 },
    ])
  // A log's months come first where it is new, its digest where it was there; every other one is rolled up again.
  await saveMonths()
  await saveLogDigest(db, key, digest)
  if (count % 2 === 0) await saveMonths()
  return key.logId
}

onBothDatabases('what was wrong with the logs of a month', (opened) => {
  it('is told of the fifty that need a look most; of the others how much it is', async () => {
    const { db } = opened()
    const machines = [await newMachine(db), await newMachine(db)].sort()
    // Three untrusted ones come first however little was wrong; then those with most, the least of them left out.
    const sound = await logWith(db, machines[0], 0, true)
    const untrusted: string[] = []
    for (let n = 0; n < 3; n++) untrusted.push(await logWith(db, machines[n % 2], 1, false))
    const counted: { id: string; count: number }[] = []
    for (let count = 1; count <= MOST_TOLD; count++)
      counted.push({ id: await logWith(db, machines[count % 2], count, true), count })
    const elsewhere = await logWith(db, machines[0], 99, true, '2026-04')

    const logs = [...(await logsByMachine(db, MONTH)).values()].flat()
    expect(logs).toHaveLength(1 + untrusted.length + MOST_TOLD)
    const of = (id: string) => logs.find(({ logId }) => logId === id) ?? expect.fail(`log ${id} is missing`)
    expect(logs.some(({ logId }) => logId === elsewhere)).toBe(false)
    expect(logs.filter(({ problems }) => problems?.length)).toHaveLength(MOST_TOLD)
    expect(of(sound)).toMatchObject({ problemCount: 0, problems: [] })
    for (const id of untrusted) expect(of(id).problems).toHaveLength(1)
    for (const { id, count } of counted) {
      const isTold = count > untrusted.length
      expect(of(id).problemCount).toBe(count)
      if (isTold) expect(of(id).problems).toHaveLength(count)
      else expect(of(id).problems).toBeNull()
    }
    expect(of(counted[9].id).problems?.[0]).toContain('q')

    // However many are told, all are counted.
    expect(await countMonthLogs(db, 'site', MONTH)).toEqual({
      logs: logs.length,
      suspicious: logs.filter(isSuspicious).length,
      replaying: 0,
    })
  })

  it('takes a log whose options are being replayed neither for one of an earlier engine nor for a sound one', async () => {
    const { db } = opened()
    const machine = await newMachine(db)
    const month = '2026-08'
    const months = [{ month, runningS: 60, electricJ: 0, idleJ: 0, wasteJ: 0, cost: 0, cycles: 0 }]
    const [replaying, old] = [await newLog(db, machine), await newLog(db, machine)]
    for (const key of [replaying, old]) {
      await saveMonthTotals(db, key, [{ ...NO_ENERGY, month, phaseKind: 'work-moving', seconds: 60 }])
      await saveMonthDigests(db, key, months)
    }
    await db.update(logs).set({ state: 'replaying' }).where(eq(logs.id, replaying.logId))
    await logWith(db, machine, 0, true, month)

    const told = [...(await logsByMachine(db, month)).values()].flat()
    expect(told.filter(isSuspicious).map(({ logId }) => logId)).toEqual([old.logId])
    expect(told.filter(({ isReplaying }) => isReplaying).map(({ logId }) => logId)).toEqual([replaying.logId])
    const counts = { logs: 3, suspicious: 1, replaying: 1 }
    expect(await countMonthLogs(db, DEFAULT_SITE_ID, month)).toEqual(counts)
    expect((await monthPage(db, month)).quality).toMatchObject(counts)

    // Read anew, a log keeps what was known of it until it is known again.
    await db.update(logs).set({ state: 'replaying' }).where(eq(logs.machineId, machine))
    expect(await countMonthLogs(db, DEFAULT_SITE_ID, month)).toEqual({ logs: 3, suspicious: 0, replaying: 2 })
  })

  it('of exactly fifty all are told', async () => {
    const { db } = opened()
    const machine = await newMachine(db)
    for (let n = 0; n < MOST_TOLD; n++) await logWith(db, machine, 2, true, '2026-06')
    const logs = [...(await logsByMachine(db, '2026-06')).values()].flat()
    expect(logs).toHaveLength(MOST_TOLD)
    for (const { problems } of logs) expect(problems).toHaveLength(2)
  })
})
