'use client'
import { memo, useMemo } from 'react'
import type { MonthPage } from '@/app/_server/views/month-page'
import { shownMachines } from '@/app/_server/views/shown-machines'
import { DataTable } from '@/app/_tables/data-table'
import { FilterTools } from '@/app/_tables/table-tools'
import { useAddress } from '@/app/_tables/use-address'
import { count } from '../format'
import { OpensHere } from '../opens'
import { ChangeSplitTable } from './change-split'
import { Decided } from './decided'
import { FirstToDo } from './first-to-do'
import { MonthExplained } from './month-explained'
import { MonthFigures } from './month-figures'
import { type Picked, sumMonth } from './month-sum'
import { pick } from './pick'
import { WasteBars } from './waste-bars'
import { wasteColumns } from './waste-columns'
import { wasteRows } from './waste-rows'

/** All above the table: made anew where other machines or kinds are looked at, not where the table is sorted. */
const MonthSheets = memo(function MonthSheets({
  picked,
  month,
  site,
  previous,
  measures,
}: Pick<MonthPage, 'month' | 'site' | 'previous' | 'measures'> & { picked: readonly Picked[] }) {
  const shown = new Set(picked.map(({ machine }) => machine.machineId))
  return (
    <>
      <MonthFigures site={site} previous={previous} picked={picked} />
      <section className="sheet" aria-labelledby="bars">
        <h2 id="bars">Where it went, by machine</h2>
        {picked.length ? (
          <WasteBars picked={picked} month={month} site={site} />
        ) : (
          <p className="nodata">Nothing matches. Clear the search or the choices above.</p>
        )}
      </section>
      <section className="sheet" aria-labelledby="changed">
        <h2 id="changed">What changed</h2>
        <ChangeSplitTable
          changes={sumMonth(picked).changes}
          picked={picked}
          month={month}
          currency={site.currency}
        />
      </section>
      <section className="sheet" aria-labelledby="first">
        <h2 id="first">What to do first</h2>
        <FirstToDo machines={picked.map(({ machine }) => machine)} site={site} />
      </section>
      <section className="sheet" aria-labelledby="decided">
        <h2 id="decided">What was decided, and how it is doing</h2>
        <Decided measures={measures.filter(({ machineId }) => shown.has(machineId))} />
      </section>
    </>
  )
})

/** The month's figures, bars and table under one set of filters. */
export function MonthReview({
  month,
  site,
  columns: packed,
  previous,
  measures,
}: Pick<MonthPage, 'month' | 'site' | 'columns' | 'previous' | 'measures'>) {
  const machines = useMemo(() => shownMachines(packed), [packed])
  const columns = useMemo(() => wasteColumns(site, month), [site, month])
  const ids = useMemo(() => columns.map((column) => column.id), [columns])
  const address = useAddress(ids)
  const rows = useMemo(() => wasteRows(machines), [machines])
  const { search, choices } = address.state
  const picked = useMemo(() => pick(machines, { search, choices }), [machines, search, choices])
  return (
    <OpensHere>
      <section className="sheet filters" aria-label="What is shown">
        <div className="tools">
          <FilterTools columns={columns} rows={rows} state={address.state} onChange={address.change} />
          <span className="soft small" aria-live="polite">
            Figures, bars and tables show {count(picked.length)} of {count(machines.length)} machines.
          </span>
        </div>
      </section>
      <MonthSheets picked={picked} month={month} site={site} previous={previous} measures={measures} />
      <section className="sheet" aria-labelledby="table">
        <h2 id="table">Waste by machine and kind</h2>
        <p className="soft">
          Measured and scaled are kept apart: the scaled part is what the unlogged planned hours would add at
          the measured rate.
        </p>
        <DataTable
          caption="Waste by machine and kind"
          columns={columns}
          rows={rows}
          rowKey={(row) => `${row.machineId} ${row.kind}`}
          address={address}
        />
        <MonthExplained site={site} />
      </section>
    </OpensHere>
  )
}
