import type { z } from 'zod'
import type { Database } from '@/db/client'
import { needMonth } from './month-answer'
import type { monthLogsSchema } from './month-shapes'
import { logsByMachine } from './views/month-logs'
import { readMonth, reviewsOf } from './views/month-reviews'
import { asFrozen, closingOf, type FrozenMonth } from './views/month-view'

export type MonthLogsAnswer = z.infer<typeof monthLogsSchema>
type Machine = MonthLogsAnswer['machines'][number]

/**
 * The logs that a month stands on, machine by machine, what was wrong with them and what they do not stand for. Of a
 * closed month they are those of its closing.
 * @throws ApiProblem `bad-query`
 */
export async function monthLogs(db: Database, month: string): Promise<MonthLogsAnswer> {
  needMonth(month)
  const [closing, logs, read] = await Promise.all([
    closingOf(db, month),
    logsByMachine(db, month),
    readMonth(db, month),
  ])
  if (closing) {
    const { machines } = asFrozen(closing.frozen as FrozenMonth)
    return {
      month,
      machines: machines.map(({ machineId, name, review, logs: own }) => ({
        machineId,
        name,
        notes: review.represents.notes,
        logs: own,
      })),
    }
  }
  const machines: Machine[] = []
  for (const { machineId, name, review } of reviewsOf(read))
    machines.push({ machineId, name, notes: review.represents.notes, logs: logs.get(machineId) ?? [] })
  return { month, machines }
}
