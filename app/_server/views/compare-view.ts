import { byName } from '@/app/_ui/name-order'
import type { Database } from '@/db/client'
import { listLatestDigests } from '@/db/queries/log-digests'
import { latestDigestedMonth, listLatestMonths, listWasteShares } from '@/db/queries/machine-trends'
import { listMachineNames } from '@/db/queries/machines'
import { DEFAULT_SITE_ID, siteSettings } from '@/db/queries/sites'
import type { LogFigures } from '@/db/schema/log-digests'
import type { OptionId } from '@/lib/contract/result'
import type { Site } from '@/lib/contract/site'
import { type NamedMachine, plannedHoursOf } from '@/lib/economics/planned-time'
import type { MonthDigest } from '@/lib/months/month-digest'
import { J_PER_KWH, S_PER_HOUR } from '@/lib/units'
import { monthsBefore } from './months-before'

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
  /** Waste share of each month of the view's trend. */
  readonly trend: readonly (number | null)[]
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
  readonly siteName: string
  readonly currency: string
  readonly timeZone: string
  /** Months of the trend, earliest first; empty where no log has a date. */
  readonly months: readonly string[]
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

const TREND_MONTHS = 12

const over = (part: number, whole: number) => (whole > 0 ? part / whole : null)

/** Figures of a machine's month; waste that cannot be separated is left out of the share. */
function monthFigures(digest: MonthDigest, machine: NamedMachine, site: Site): Figures {
  const runningHours = digest.runningS / S_PER_HOUR
  const plannedHours = plannedHoursOf(digest.month, machine, site)
  const sums = {
    inputKWh: digest.electricJ / J_PER_KWH,
    wasteKWh: digest.wasteJ / J_PER_KWH,
    idleKWh: digest.idleJ / J_PER_KWH,
    cost: digest.cost,
    runningHours,
    plannedHours,
  }
  return {
    month: digest.month,
    wasteShare: over(sums.wasteKWh, sums.inputKWh),
    idleShare: over(sums.idleKWh, sums.inputKWh),
    costPerHourRun: over(digest.cost, runningHours),
    kWhPerCycle: over(sums.inputKWh, digest.cycles),
    coverageShare: over(runningHours, plannedHours),
    sums,
  }
}

/** The same from one log without a date, which belongs to no month. */
function logFigures({ shares, inputKWh, kWhPerCycle }: LogFigures): Figures {
  const input = inputKWh.value
  const idle = shares.idle?.value ?? 0
  const waste = idle + (shares.overRelief?.value ?? 0) + (shares.metering?.value ?? 0)
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

/** The trend's months, and by machine its waste share in each of them. */
async function trendOf(db: Database) {
  const last = await latestDigestedMonth(db, DEFAULT_SITE_ID)
  const months = last ? monthsBefore(last, TREND_MONTHS) : []
  const trends = new Map<string, (number | null)[]>()
  for (const { month, shares } of last ? await listWasteShares(db, DEFAULT_SITE_ID, months[0]) : []) {
    const at = months.indexOf(month)
    for (const [machineId, share] of shares) {
      const trend = trends.get(machineId) ?? months.map(() => null)
      trend[at] = share
      trends.set(machineId, trend)
    }
  }
  return { months, trends }
}

/** Every machine with its latest month, its trend and its latest log: as many queries however many machines. */
export async function compareView(db: Database): Promise<CompareView> {
  const [site, names, digests, newest, { months, trends }] = await Promise.all([
    siteSettings(db),
    listMachineNames(db, DEFAULT_SITE_ID),
    listLatestDigests(db, DEFAULT_SITE_ID),
    listLatestMonths(db, DEFAULT_SITE_ID),
    trendOf(db),
  ])
  const rows = byName(names).map(({ id, name, line, trade }): CompareRow => {
    const latest = digests.get(id)
    const month = newest.get(id)
    return {
      id,
      name,
      line,
      trade,
      ...(month
        ? monthFigures(month, { id, name }, site)
        : latest?.figures
          ? logFigures(latest.figures)
          : UNKNOWN),
      trend: trends.get(id) ?? months.map(() => null),
      bestOption: latest?.bestOption ?? null,
      bestSavedKWhPerYear: latest?.bestSavedKWhPerYear ?? null,
      modelTrusted: latest?.modelTrusted ?? null,
      lastLogId: latest?.logId ?? null,
      lastLogAt: latest?.startedAt ?? latest?.receivedAt ?? null,
      lastLogIsDated: Boolean(latest?.startedAt),
    }
  })
  const { name: siteName, currency, timeZone } = site
  return { rows, siteName, currency, timeZone, months }
}
