'use client'
import Link from 'next/link'
import type { MeasureSummary } from '@/app/_server/measure-shapes'
import type { Column } from '@/app/_tables/column'
import { DataTable } from '@/app/_tables/data-table'
import { proofWords } from '@/app/_words/en/proof'
import { estimateParts } from '../format'

type Saving = NonNullable<MeasureSummary['expected']>['savedKWhPerYear']

function figure(saving: Saving | null | undefined) {
  if (!saving) return <span className="nodata">no data</span>
  const { value, interval } = estimateParts(saving)
  return (
    <>
      {value} <span className="pm">{interval}</span>
    </>
  )
}

const provenIn = ({ proof }: MeasureSummary) => proof?.savedKWhPerYear ?? null

const COLUMNS: readonly Column<MeasureSummary>[] = [
  {
    id: 'measure',
    header: 'Measure',
    value: (row) => row.title,
    cell: (row) => (
      <>
        <Link className="wrap" href={`/measures/${row.id}`}>
          {row.title}
        </Link>
        {/* Where the other columns are scrolled to, whose measure it is stays in sight. */}
        <span className="how phone-only">{row.machineName}</span>
      </>
    ),
  },
  {
    id: 'machine',
    header: 'Machine',
    choice: true,
    group: true,
    value: (row) => row.machineName,
    cell: (row) => <Link href={`/machines/${row.machineId}`}>{row.machineName}</Link>,
  },
  {
    id: 'state',
    header: 'State',
    choice: true,
    group: true,
    value: (row) => proofWords.states[row.state],
    cell: (row) => <span className="tag">{proofWords.states[row.state]}</span>,
  },
  { id: 'since', header: 'Since', value: (row) => row.on, cell: (row) => row.on },
  {
    id: 'owner',
    header: 'Owner',
    choice: true,
    group: true,
    value: (row) => row.owner,
    cell: (row) => row.owner ?? '–',
  },
  {
    id: 'predicted',
    header: 'Predicted',
    unit: 'kWh/yr',
    numeric: true,
    help: 'Frozen when it was decided, with its 95 % interval',
    value: (row) => row.expected?.savedKWhPerYear.value ?? null,
    cell: (row) => figure(row.expected?.savedKWhPerYear),
  },
  {
    id: 'proven',
    header: 'Proven',
    unit: 'kWh/yr',
    numeric: true,
    help: 'Frozen when it was verified, with its 95 % interval',
    value: (row) => provenIn(row)?.value ?? null,
    cell: (row) => figure(provenIn(row)),
  },
  {
    id: 'verdict',
    header: 'Verdict',
    choice: true,
    value: (row) => row.proof && proofWords.verdicts[row.proof.verdict],
    cell: (row) => (row.proof ? proofWords.verdicts[row.proof.verdict] : '–'),
  },
]

/** All measures; search, choices and order live in the address. */
export function MeasuresTable({ measures }: { measures: readonly MeasureSummary[] }) {
  return <DataTable caption="Measures" columns={COLUMNS} rows={measures} rowKey={(row) => row.id} />
}
