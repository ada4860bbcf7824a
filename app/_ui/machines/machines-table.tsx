'use client'
import Link from 'next/link'
import { useMemo } from 'react'
import type { CompareRow } from '@/app/_server/views/compare-view'
import type { Column } from '@/app/_tables/column'
import { DataTable } from '@/app/_tables/data-table'
import { dateOnly, monthName, number, percent, rough } from '../format'
import { OPTION_WORDS } from '../labels'
import { ratioOfSums, savedTogether } from './group-totals'
import { MachinesExplained } from './machines-explained'

const none = <span className="nodata">no data</span>
const figure = (value: number | null) => (value === null ? none : number(value))
const share = (value: number | null) => (value === null ? none : percent(value))

function columnsFor(currency: string, timeZone: string): readonly Column<CompareRow>[] {
  return [
    {
      id: 'name',
      header: 'Machine',
      value: (row) => row.name,
      cell: (row) => <Link href={`/machines/${row.id}`}>{row.name}</Link>,
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
      value: (row) => row.bestOption && OPTION_WORDS[row.bestOption].title,
      cell: (row) =>
        row.bestOption ? (
          <Link className="wrap" href={`/machines/${row.id}#options`}>
            {OPTION_WORDS[row.bestOption].title}
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

/** Machines side by side; figures of each machine's latest month with logs. */
export function MachinesTable({
  rows,
  currency,
  timeZone,
}: {
  rows: readonly CompareRow[]
  currency: string
  timeZone: string
}) {
  const columns = useMemo(() => columnsFor(currency, timeZone), [currency, timeZone])
  return (
    <>
      <DataTable caption="Machines compared" columns={columns} rows={rows} rowKey={(row) => row.id} />
      <MachinesExplained />
    </>
  )
}
