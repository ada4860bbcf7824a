import type { Database } from '@/db/client'
import { listMachines } from '@/db/queries/machines'
import { listMonthTotals } from '@/db/queries/month-totals'
import { DEFAULT_SITE_ID, siteSettings } from '@/db/queries/sites'
import { machineMonth } from '@/lib/months/month'
import { ApiProblem } from './api-problem'
import type { MonthAnswer } from './shapes'

/** A month by machine: what was measured, scaled to planned hours, and the numerators both come from. */
export async function monthAnswer(db: Database, month: string): Promise<MonthAnswer> {
  if (!/^\d{4}-(0[1-9]|1[0-2])$/.test(month))
    throw new ApiProblem('bad-query', { name: 'month', expected: 'YYYY-MM', actual: month })
  const site = await siteSettings(db)
  const all = await listMonthTotals(db, DEFAULT_SITE_ID, month)
  const machines = (await listMachines(db)).map(({ id, name, line, trade }) => {
    const own = all.filter((row) => row.machineId === id)
    const rows = own.map(({ machineId: _, siteId: __, month: ___, ...row }) => row)
    return { machineId: id, name, line, trade, summary: machineMonth(rows, site), rows }
  })
  return { month, timeZone: site.timeZone, currency: site.currency, machines }
}
