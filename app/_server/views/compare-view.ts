import type { Database } from '@/db/client'
import { listLatestDigests } from '@/db/queries/log-digests'
import { listMachines } from '@/db/queries/machines'
import { DEFAULT_SITE_ID, siteSettings } from '@/db/queries/sites'
import { listLatestMonthTotals } from '@/db/queries/views-compare'
import type { LogFigures } from '@/db/schema/log-digests'
import type { MonthTotalsRow } from '@/db/schema/month-totals'
import type { OptionId } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import { machineMonth } from '@/lib/months/month'
import { WASTE_KINDS } from '@/lib/months/waste'
import { groupBy } from './group-by'

/** What shares and rates of a machine are made of, so that a line's can be made of its machines'. */
export interface CompareSums {
  readonly inputKWh: number
  readonly wasteKWh: number
  readonly idleKWh: number
  /** Null where the figures come from a log without a date, which no tariff can price. */
  readonly cost: number | null
  readonly runningHours: number | null
  readonly plannedHours: number | null
}

/** A machine on equal terms with the others; null where nothing is known. */
export interface CompareRow {
  readonly id: string
  readonly name: string
  readonly line: string | null
  readonly trade: string | null
  /** The month the figures are of, `YYYY-MM`; null where they come from a log without a date, or from none. */
  readonly month: string | null
  readonly wasteShare: number | null
  readonly idleShare: number | null
  readonly costPerHourRun: number | null
  readonly kWhPerCycle: number | null
  readonly coverageShare: number | null
  readonly sums: CompareSums | null
  readonly bestOption: OptionId | null
  readonly bestSavedKWhPerYear: number | null
  readonly modelTrusted: boolean | null
  readonly lastLogId: string | null
  /** When it was recorded, or for a log without a date when it was received. */
  readonly lastLogAt: string | null
  readonly lastLogIsDated: boolean
}

export interface CompareView {
  readonly rows: readonly CompareRow[]
  readonly currency: string
  readonly timeZone: string
}

type Figures = Pick<
  CompareRow,
  'month' | 'wasteShare' | 'idleShare' | 'costPerHourRun' | 'kWhPerCycle' | 'coverageShare' | 'sums'
>

const UNKNOWN: Figures = {
  month: null,
  wasteShare: null,
  idleShare: null,
  costPerHourRun: null,
  kWhPerCycle: null,
  coverageShare: null,
  sums: null,
}

const over = (part: number, whole: number) => (whole > 0 ? part / whole : null)

/** Figures of a month's rows; waste that cannot be separated is left out of the share. */
function monthFigures(rows: readonly MonthTotalsRow[], site: Site): Figures {
  const summary = machineMonth(rows, site)
  if (!summary) return UNKNOWN
  const { measured, coverageShare } = summary
  const waste = WASTE_KINDS.reduce((sum, kind) => sum + (measured.waste[kind]?.kWh ?? 0), 0)
  const cycles = rows.reduce((sum, row) => sum + row.cycles, 0)
  return {
    month: rows[0].month,
    wasteShare: over(waste, measured.electric.kWh),
    idleShare: over(measured.electricByClass.idle.kWh, measured.electric.kWh),
    costPerHourRun: over(measured.electric.cost, measured.runningHours),
    kWhPerCycle: over(measured.electric.kWh, cycles),
    coverageShare,
    sums: {
      inputKWh: measured.electric.kWh,
      wasteKWh: waste,
      idleKWh: measured.electricByClass.idle.kWh,
      cost: measured.electric.cost,
      runningHours: measured.runningHours,
      plannedHours: summary.plannedHours,
    },
  }
}

/** The same from one log without a date, which belongs to no month. */
function logFigures({ shares, inputKWh, kWhPerCycle }: LogFigures): Figures {
  const input = inputKWh.value
  const { overRelief, metering } = shares
  const idle = shares.idle?.value ?? 0
  const waste = idle + (overRelief?.value ?? 0) + (metering?.value ?? 0)
  return {
    ...UNKNOWN,
    wasteShare: over(waste, input),
    idleShare: over(idle, input),
    kWhPerCycle: kWhPerCycle?.value ?? null,
    sums: {
      inputKWh: input,
      wasteKWh: waste,
      idleKWh: idle,
      cost: null,
      runningHours: null,
      plannedHours: null,
    },
  }
}

/** Every machine with its latest month and its latest log. */
export async function compareView(db: Database): Promise<CompareView> {
  const site = await siteSettings(db)
  const totals = groupBy(await listLatestMonthTotals(db, DEFAULT_SITE_ID), (row) => row.machineId)
  const digests = new Map((await listLatestDigests(db, DEFAULT_SITE_ID)).map((one) => [one.machineId, one]))
  const rows = (await listMachines(db)).map(({ id, name, line, trade }): CompareRow => {
    const latest = digests.get(id)
    const months = totals.get(id)
    const best = latest?.best
    return {
      id,
      name,
      line,
      trade,
      ...(months ? monthFigures(months, site) : latest ? logFigures(latest.figures) : UNKNOWN),
      bestOption: best?.id ?? null,
      bestSavedKWhPerYear: best?.savedKWhPerYear?.value ?? null,
      modelTrusted: latest?.modelTrusted ?? null,
      lastLogId: latest?.logId ?? null,
      lastLogAt: (latest?.startedAt ?? latest?.receivedAt)?.toISOString() ?? null,
      lastLogIsDated: Boolean(latest?.startedAt),
    }
  })
  return { rows, currency: site.currency, timeZone: site.timeZone }
}
