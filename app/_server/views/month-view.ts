import { describeProblem } from '@/app/_words/describe'
import type { Database } from '@/db/client'
import { listLatestDigests } from '@/db/queries/log-digests'
import { listMachines } from '@/db/queries/machines'
import { listMonths, listMonthTotals } from '@/db/queries/month-totals'
import { DEFAULT_SITE_ID, siteSettings } from '@/db/queries/sites'
import { listMonthQuality } from '@/db/queries/views-quality'
import type { BestOption } from '@/db/schema/log-digests'
import type { MonthTotalsRow } from '@/db/schema/month-totals'
import type { Site } from '@/lib/contract/site'
import { type ChangeSplit, monthChange } from '@/lib/months/change'
import { type MachineMonth, machineMonth } from '@/lib/months/month'
import type { WasteKind } from '@/lib/months/waste'
import { groupBy } from './group-by'

export interface MachineMonthView {
  readonly machineId: string
  readonly name: string
  readonly line: string | null
  readonly summary: MachineMonth
  /** Against the month before; null where that month holds nothing of this machine. */
  readonly change: Readonly<Record<'electric' | WasteKind, ChangeSplit | null>> | null
  readonly logs: readonly QualityView[]
  /** What to do first with it, from its latest log; null where no option saves. */
  readonly best: BestOption | null
}

export interface QualityView {
  readonly logId: string
  readonly fileName: string
  readonly startedAt: string | null
  readonly durationS: number | null
  readonly rowsRead: number | null
  readonly rowsRejected: number | null
  readonly modelTrusted: boolean
  readonly problems: readonly string[]
}

export interface MonthView {
  readonly month: string
  /** Months that hold anything, latest first. */
  readonly months: readonly string[]
  readonly previous: string | null
  readonly next: string | null
  readonly site: Site
  readonly machines: readonly MachineMonthView[]
  /** Machines without a log in this month. */
  readonly unlogged: readonly { readonly id: string; readonly name: string }[]
}

const byMachine = (rows: readonly MonthTotalsRow[]) => groupBy(rows, (row) => row.machineId)

/** The latest month that holds anything, or null. */
export async function latestMonth(db: Database): Promise<string | null> {
  return (await listMonths(db, DEFAULT_SITE_ID))[0] ?? null
}

function before(month: string): string {
  const [year, number] = month.split('-').map(Number)
  return new Date(Date.UTC(year, number - 2, 1)).toISOString().slice(0, 'YYYY-MM'.length)
}

/** The review of a month: every machine measured, scaled and against the month before, with its logs’ quality. */
export async function monthView(db: Database, month: string): Promise<MonthView> {
  const site = await siteSettings(db)
  const months = await listMonths(db, DEFAULT_SITE_ID)
  const now = byMachine(await listMonthTotals(db, DEFAULT_SITE_ID, month))
  const last = byMachine(await listMonthTotals(db, DEFAULT_SITE_ID, before(month)))
  const quality = groupBy(await listMonthQuality(db, DEFAULT_SITE_ID, month), (log) => log.machineId)
  const known = await listMachines(db)
  const bests = new Map(
    (await listLatestDigests(db, DEFAULT_SITE_ID)).map((one) => [one.machineId, one.best]),
  )
  const machines = known.flatMap(({ id, name, line }): MachineMonthView[] => {
    const summary = machineMonth(now.get(id) ?? [], site)
    if (!summary) return []
    const old = machineMonth(last.get(id) ?? [], site)
    const logs = (quality.get(id) ?? []).map(
      (log): QualityView => ({
        logId: log.logId,
        fileName: log.fileName,
        startedAt: log.startedAt?.toISOString() ?? null,
        durationS: log.durationS,
        rowsRead: log.rowsRead,
        rowsRejected: log.rowsRejected,
        modelTrusted: log.model.trusted,
        problems: log.problems.map((problem) => describeProblem(problem).message),
      }),
    )
    const best = bests.get(id) ?? null
    return [{ machineId: id, name, line, summary, change: old && monthChange(old, summary), logs, best }]
  })
  const at = months.indexOf(month)
  return {
    month,
    months,
    previous: months.find((one) => one < month) ?? null,
    next: months.slice(0, at < 0 ? months.length : at).findLast((one) => one > month) ?? null,
    site,
    machines,
    unlogged: known.filter(({ id }) => !now.has(id)).map(({ id, name }) => ({ id, name })),
  }
}
