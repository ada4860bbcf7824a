import Link from 'next/link'
import type { ReactNode } from 'react'
import type { MonthPage } from '@/app/_server/views/month-page'
import type { Column } from '@/app/_tables/column'
import type { Reach } from '@/lib/months/reach'
import { monthName, number, percent, rough } from '../format'
import { Key } from '../key'
import { Opens } from '../opens'
import { DESTINATIONS } from '../streams'
import { CellExplained, type CellPart } from './cell-explained'
import { LogLinks } from './log-links'
import { withReach } from './reach-text'
import { signed as signedText } from './signed'
import type { WasteRow } from './waste-rows'

const signed = (value: number | null) =>
  value === null ? <span className="nodata">no data</span> : signedText(value)

/** A figure with its 95 % interval beside it. */
const sure = (value: number | null, reach: Reach | null) => {
  if (value === null) return apart
  const text = withReach(value, reach)
  return (
    <>
      {text.value} <span className="pm">{text.interval}</span>
    </>
  )
}

const apart = <span className="nodata">not separable</span>
const known = (value: number | null) => (value === null ? apart : number(value))
const scaled = (value: number | null) => (value === null ? apart : rough(value))

type Summed =
  | 'measuredKWh'
  | 'measuredCost'
  | 'measuredCO2'
  | 'scaledKWh'
  | 'scaledCost'
  | 'change'
  | 'byHours'
  | 'byDuty'
  | 'byRate'
  | 'byPrice'

/** A group's sum over the rows that have the figure; null where none has. */
function total(rows: readonly WasteRow[], key: Summed): number | null {
  const values = rows.flatMap((row) => row[key] ?? [])
  return values.length ? values.reduce((sum, value) => sum + value, 0) : null
}

/** The columns of waste by machine and kind. */
export function wasteColumns(site: MonthPage['site'], month: string): readonly Column<WasteRow>[] {
  const { currency } = site
  /** A figure of a row that opens; what is not separable does not. */
  const opens = (row: WasteRow, part: CellPart, what: string, figure: ReactNode) => (
    <Opens
      title={`${row.machine}, ${DESTINATIONS[row.kind].label.toLowerCase()}, ${monthName(month)}: ${what}`}
      content={() => <CellExplained machine={row.of} kind={row.kind} part={part} month={month} site={site} />}
    >
      {figure}
    </Opens>
  )
  const effect = (id: string, header: string, key: Summed, help: string): Column<WasteRow> => ({
    id,
    header,
    unit: currency,
    numeric: true,
    help,
    value: (row) => row[key],
    cell: (row) =>
      row[key] === null ? signed(null) : opens(row, 'change', header.toLowerCase(), signed(row[key])),
    total: (rows) => signed(total(rows, key)),
  })
  return [
    {
      id: 'machine',
      header: 'Machine',
      choice: true,
      group: true,
      value: (row) => row.machine,
      cell: (row) => <Link href={`/machines/${row.machineId}`}>{row.machine}</Link>,
    },
    {
      id: 'kind',
      header: 'Kind of waste',
      choice: true,
      group: true,
      value: (row) => DESTINATIONS[row.kind].label,
      cell: (row) => (
        <>
          <Key token={DESTINATIONS[row.kind].token} />
          {DESTINATIONS[row.kind].label}
        </>
      ),
    },
    {
      id: 'line',
      header: 'Line',
      choice: true,
      group: true,
      hidden: true,
      value: (row) => row.line,
      cell: (row) => row.line ?? '–',
    },
    {
      id: 'kwh',
      header: 'Measured',
      unit: 'kWh, ± 95 %',
      numeric: true,
      value: (row) => row.measuredKWh,
      cell: (row) =>
        row.measuredKWh === null
          ? apart
          : opens(row, 'kWh', 'measured energy', sure(row.measuredKWh, row.measuredReach)),
      total: (rows) => known(total(rows, 'measuredKWh')),
    },
    {
      id: 'cost',
      header: 'Measured',
      unit: currency,
      numeric: true,
      value: (row) => row.measuredCost,
      cell: (row) =>
        row.measuredCost === null ? apart : opens(row, 'cost', 'measured cost', known(row.measuredCost)),
      total: (rows) => known(total(rows, 'measuredCost')),
    },
    {
      id: 'co2',
      header: 'Measured',
      unit: 'kg CO₂',
      numeric: true,
      value: (row) => row.measuredCO2,
      cell: (row) =>
        row.measuredCO2 === null ? apart : opens(row, 'CO2', 'measured CO₂', known(row.measuredCO2)),
      total: (rows) => known(total(rows, 'measuredCO2')),
    },
    {
      id: 'share',
      header: 'Of input',
      unit: '%',
      numeric: true,
      value: (row) => row.shareOfInput,
      cell: (row) =>
        row.shareOfInput === null ? apart : opens(row, 'share', 'share of input', percent(row.shareOfInput)),
    },
    {
      id: 'scaled',
      header: 'Scaled part',
      unit: 'kWh, ± 95 %',
      numeric: true,
      help: 'Unlogged planned hours at the measured rate, in addition to what was measured',
      value: (row) => row.scaledKWh,
      cell: (row) =>
        row.scaledKWh === null
          ? apart
          : opens(row, 'scaled', 'scaled energy', sure(row.scaledKWh, row.scaledReach)),
      total: (rows) => scaled(total(rows, 'scaledKWh')),
    },
    {
      id: 'scaledcost',
      header: 'Scaled part',
      unit: currency,
      numeric: true,
      value: (row) => row.scaledCost,
      cell: (row) =>
        row.scaledCost === null ? apart : opens(row, 'scaledCost', 'scaled cost', scaled(row.scaledCost)),
      total: (rows) => scaled(total(rows, 'scaledCost')),
    },
    effect(
      'change',
      'Change to month before',
      'change',
      'Whole months compared, measured and scaled together',
    ),
    { ...effect('hours', 'By hours', 'byHours', 'More or fewer running hours'), hidden: true },
    { ...effect('duty', 'By duty', 'byDuty', 'Another mix of kinds of phase'), hidden: true },
    { ...effect('rate', 'By waste per hour', 'byRate', 'Within the same kind of phase'), hidden: true },
    { ...effect('price', 'By price', 'byPrice', 'Another price of a kWh'), hidden: true },
    {
      id: 'coverage',
      header: 'Coverage',
      unit: '%',
      numeric: true,
      value: (row) => row.coverageShare,
      cell: (row) => opens(row, 'coverage', 'coverage', percent(row.coverageShare)),
    },
    {
      id: 'logs',
      header: 'Logs',
      hidden: true,
      value: (row) => row.logs,
      numeric: true,
      cell: (row) => <LogLinks machineId={row.machineId} name={row.machine} />,
    },
  ]
}
