import { and, eq, type SQLWrapper, sql } from 'drizzle-orm'
import type { Database } from '@/db/client'
import type { LogKey } from '@/db/queries/logs'
import { logDigests } from '@/db/schema/log-digests'
import { monthDigests } from '@/db/schema/month-digests'
import type { MonthDigest } from '@/lib/months/month-digest'

/** Whether there is nothing to look at in a log, as its digest says. */
const isSound = sql<boolean>`${logDigests.problemCount} = 0 and ${logDigests.modelTrusted}`

const soundOf = (db: Database, { machineId, logId }: LogKey) =>
  sql<boolean>`(${db
    .select({ isSound })
    .from(logDigests)
    .where(and(eq(logDigests.machineId, machineId), eq(logDigests.logId, logId)))})`

/** Brings what months know of a log up to date with its digest, in the transaction that stores that. */
export async function markSound(db: Database, key: LogKey): Promise<void> {
  await db
    .update(monthDigests)
    .set({ isSound: soundOf(db, key) })
    .where(and(eq(monthDigests.machineId, key.machineId), eq(monthDigests.logId, key.logId)))
}

/** Stores what a log adds to its months, in place of what was there. */
export async function saveMonthDigests(
  db: Database,
  key: LogKey & { readonly siteId: string },
  digests: readonly MonthDigest[],
): Promise<void> {
  await db
    .delete(monthDigests)
    .where(and(eq(monthDigests.machineId, key.machineId), eq(monthDigests.logId, key.logId)))
  if (digests.length > 0)
    await db
      .insert(monthDigests)
      .values(digests.map((one) => ({ ...key, ...one, isSound: soundOf(db, key) })))
}

const total = (column: SQLWrapper) => sql<number | null>`sum(${column})`

/** What the logs of a machine add to a month; nulls where none has a digest. */
export type SummedDigest = { readonly [Name in keyof Omit<MonthDigest, 'month'>]: number | null }

export async function sumMonthDigests(
  db: Database,
  of: { readonly machineId: string; readonly month: string },
): Promise<SummedDigest> {
  const { machineId, month, runningS, electricJ, idleJ, wasteJ, cost, cycles } = monthDigests
  const [sums] = await db
    .select({
      runningS: total(runningS),
      electricJ: total(electricJ),
      idleJ: total(idleJ),
      wasteJ: total(wasteJ),
      cost: total(cost),
      cycles: total(cycles),
    })
    .from(monthDigests)
    .where(and(eq(machineId, of.machineId), eq(month, of.month)))
  return sums
}
