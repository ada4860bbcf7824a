import Link from 'next/link'
import type { Column } from '@/app/_tables/column'
import { number, percent, rough } from '../format'
import { Key } from '../key'
import { DESTINATIONS } from '../streams'
import type { WasteRow } from './waste-rows'

const signed = (value: number | null) =>
  value === null ? <span className="nodata">no data</span> : `${value > 0 ? '+' : ''}${rough(value)}`

const apart = <span className="nodata">not separable</span>
const known = (value: number | null) => (value === null ? apart : number(value))
const scaled = (value: number | null) => (value === null ? apart : rough(value))

type Summed = 'measuredKWh' | 'measuredCost' | 'measuredCO2' | 'scaledKWh' | 'scaledCost' | 'changeKWh'

/** A group's sum over the rows that have the figure; null where none has. */
function total(rows: readonly WasteRow[], key: Summed): number | null {
  const values = rows.flatMap((row) => row[key] ?? [])
  return values.length ? values.reduce((sum, value) => sum + value, 0) : null
}

/** The columns of waste by machine and kind. */
export function wasteColumns(currency: string): readonly Column<WasteRow>[] {
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
      unit: 'kWh',
      numeric: true,
      value: (row) => row.measuredKWh,
      cell: (row) => known(row.measuredKWh),
      total: (rows) => known(total(rows, 'measuredKWh')),
    },
    {
      id: 'cost',
      header: 'Measured',
      unit: currency,
      numeric: true,
      value: (row) => row.measuredCost,
      cell: (row) => known(row.measuredCost),
      total: (rows) => known(total(rows, 'measuredCost')),
    },
    {
      id: 'co2',
      header: 'Measured',
      unit: 'kg CO₂',
      numeric: true,
      value: (row) => row.measuredCO2,
      cell: (row) => known(row.measuredCO2),
      total: (rows) => known(total(rows, 'measuredCO2')),
    },
    {
      id: 'share',
      header: 'Of input',
      unit: '%',
      numeric: true,
      value: (row) => row.shareOfInput,
      cell: (row) => (row.shareOfInput === null ? apart : percent(row.shareOfInput)),
    },
    {
      id: 'scaled',
      header: 'Scaled part',
      unit: 'kWh',
      numeric: true,
      help: 'Unlogged planned hours at the measured rate, in addition to what was measured',
      value: (row) => row.scaledKWh,
      cell: (row) => scaled(row.scaledKWh),
      total: (rows) => scaled(total(rows, 'scaledKWh')),
    },
    {
      id: 'scaledcost',
      header: 'Scaled part',
      unit: currency,
      numeric: true,
      value: (row) => row.scaledCost,
      cell: (row) => scaled(row.scaledCost),
      total: (rows) => scaled(total(rows, 'scaledCost')),
    },
    {
      id: 'change',
      header: 'Change to month before',
      unit: 'kWh',
      numeric: true,
      help: 'Whole months compared, measured and scaled together',
      value: (row) => row.changeKWh,
      cell: (row) => signed(row.changeKWh),
      total: (rows) => signed(total(rows, 'changeKWh')),
    },
    {
      id: 'hours',
      header: 'Of it by hours',
      unit: 'kWh',
      numeric: true,
      value: (row) => row.hoursEffectKWh,
      cell: (row) => signed(row.hoursEffectKWh),
      hidden: true,
    },
    {
      id: 'rate',
      header: 'Of it per hour',
      unit: 'kWh',
      numeric: true,
      value: (row) => row.rateEffectKWh,
      cell: (row) => signed(row.rateEffectKWh),
      hidden: true,
    },
    {
      id: 'coverage',
      header: 'Coverage',
      unit: '%',
      numeric: true,
      value: (row) => row.coverageShare,
      cell: (row) => percent(row.coverageShare),
    },
  ]
}
