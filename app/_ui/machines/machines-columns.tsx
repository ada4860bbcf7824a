import Link from 'next/link'
import { Sparkline } from '@/app/_charts/sparkline'
import type { CompareRow, CompareView } from '@/app/_server/views/compare-view'
import { MOST_COMPARED } from '@/app/_server/views/compared'
import type { Column } from '@/app/_tables/column'
import { optionTitle } from '@/app/_words/en/option-title'
import { dateOnly, monthName, number, percent, rough } from '../format'
import { ratioOfSums, savedTogether } from './group-totals'

const none = <span className="nodata">no data</span>
const figure = (value: number | null) => (value === null ? none : number(value))
const share = (value: number | null) => (value === null ? none : percent(value))

/** What can be done with a row. */
export interface RowActions {
  readonly picked: readonly string[]
  readonly onPick: (id: string, isPicked: boolean) => void
  readonly onOpen: (row: CompareRow) => void
}

/** Change of a trend from its first month with logs to its last; null with fewer than two. */
function changeOf(trend: readonly (number | null)[]): number | null {
  const known = trend.filter((value) => value !== null)
  return known.length < 2 ? null : known[known.length - 1] - known[0]
}

/** Columns of the comparison; the first is the machine, the last opens how the row's figures are reached. */
export function machinesColumns(
  view: Pick<CompareView, 'currency' | 'timeZone' | 'siteName' | 'months' | 'rows'>,
  { picked, onPick, onOpen }: RowActions,
): readonly Column<CompareRow>[] {
  const { currency, timeZone, siteName, months } = view
  const most = Math.max(0, ...view.rows.flatMap(({ trend }) => trend.map((share) => share ?? 0)))
  return [
    {
      id: 'name',
      header: 'Machine',
      value: (row) => row.name,
      cell: (row) => <Link href={`/machines/${row.id}`}>{row.name}</Link>,
    },
    {
      id: 'pick',
      header: 'Compare',
      value: (row) => (picked.includes(row.id) ? 0 : 1),
      cell: (row) => (
        <input
          type="checkbox"
          aria-label={`Compare ${row.name}`}
          checked={picked.includes(row.id)}
          disabled={!row.lastLogId || (picked.length >= MOST_COMPARED && !picked.includes(row.id))}
          onChange={(event) => onPick(row.id, event.target.checked)}
        />
      ),
    },
    {
      id: 'how',
      header: 'How',
      value: () => null,
      cell: (row) =>
        row.sums ? (
          <button
            type="button"
            className="plain"
            aria-label={`How the figures of ${row.name} are reached`}
            onClick={() => onOpen(row)}
          >
            how
          </button>
        ) : null,
    },
    {
      id: 'site',
      header: 'Site',
      hidden: true,
      group: true,
      value: () => siteName,
      cell: () => siteName,
    },
    {
      id: 'line',
      header: 'Line',
      choice: true,
      group: true,
      value: (row) => row.line,
      cell: (row) => row.line ?? '–',
    },
    {
      id: 'trade',
      header: 'What it does',
      hidden: true,
      choice: true,
      group: true,
      value: (row) => row.trade,
      cell: (row) => row.trade ?? '–',
    },
    {
      id: 'waste',
      header: 'Waste',
      unit: '% of input',
      numeric: true,
      help: 'Idle, over relief, unloading and metering at the meter; what sensors cannot separate is left out',
      value: (row) => row.wasteShare,
      cell: (row) => share(row.wasteShare),
      total: (rows) => share(ratioOfSums(rows, 'wasteKWh', 'inputKWh')),
    },
    {
      id: 'trend',
      header: 'By month',
      unit: months.length ? `to ${percent(most)}` : undefined,
      help: 'Waste share of the last twelve months, all rows on one scale; sorts by the change from the first to the last',
      value: (row) => changeOf(row.trend),
      cell: (row) => <Sparkline values={row.trend} months={months} most={most} name="Waste" />,
    },
    {
      id: 'idle',
      header: 'Idle',
      unit: '% of input',
      numeric: true,
      value: (row) => row.idleShare,
      cell: (row) => share(row.idleShare),
      total: (rows) => share(ratioOfSums(rows, 'idleKWh', 'inputKWh')),
    },
    {
      id: 'cost',
      header: 'Cost per hour run',
      unit: `${currency}/h`,
      numeric: true,
      value: (row) => row.costPerHourRun,
      cell: (row) => figure(row.costPerHourRun),
      total: (rows) => figure(ratioOfSums(rows, 'cost', 'runningHours')),
    },
    {
      id: 'cycle',
      header: 'Energy per cycle',
      unit: 'kWh',
      numeric: true,
      value: (row) => row.kWhPerCycle,
      cell: (row) => figure(row.kWhPerCycle),
    },
    {
      id: 'coverage',
      header: 'Coverage',
      unit: '% of planned',
      numeric: true,
      help: 'Logged running hours over planned hours of the month',
      value: (row) => row.coverageShare,
      cell: (row) => share(row.coverageShare),
      total: (rows) => share(ratioOfSums(rows, 'runningHours', 'plannedHours')),
    },
    {
      id: 'best',
      header: 'Best option',
      choice: true,
      group: true,
      value: (row) => row.bestOption && optionTitle(row.bestOption),
      cell: (row) =>
        row.bestOption ? (
          <Link className="wrap" href={`/machines/${row.id}#options`}>
            {optionTitle(row.bestOption)}
          </Link>
        ) : row.lastLogId ? (
          'none found'
        ) : (
          none
        ),
    },
    {
      id: 'saves',
      header: 'It saves',
      unit: 'kWh/yr',
      numeric: true,
      value: (row) => row.bestSavedKWhPerYear,
      cell: (row) => (row.bestSavedKWhPerYear === null ? none : rough(row.bestSavedKWhPerYear)),
      total: (rows) => rough(savedTogether(rows)),
    },
    {
      id: 'trust',
      header: 'Model',
      choice: true,
      hidden: true,
      value: (row) => (row.modelTrusted === null ? null : row.modelTrusted ? 'trusted' : 'not trusted'),
      cell: (row) => (row.modelTrusted === null ? none : row.modelTrusted ? 'trusted' : 'not trusted'),
    },
    {
      id: 'month',
      header: 'Figures of',
      hidden: true,
      value: (row) => row.month,
      cell: (row) => (row.month ? monthName(row.month) : 'a log without a date'),
    },
    {
      id: 'last',
      header: 'Last log',
      value: (row) => row.lastLogAt,
      cell: (row) =>
        row.lastLogAt ? (
          `${row.lastLogIsDated ? '' : 'received '}${dateOnly(row.lastLogAt, timeZone)}`
        ) : (
          <Link href={`/upload?machine=${row.id}`}>upload the first</Link>
        ),
    },
  ]
}
