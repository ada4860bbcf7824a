import Link from 'next/link'
import type { CompareRow } from '@/app/_server/views/compare-view'
import { optionTitle } from '@/app/_words/en/option-title'
import { dateOnly, monthName, number, percent } from '../format'

/** Every figure of a row with the numbers it is made of, and where those come from. */
export function RowExplained({
  row,
  currency,
  timeZone,
}: {
  row: CompareRow
  currency: string
  timeZone: string
}) {
  const { sums, month } = row
  if (!sums) return null
  const { inputKWh, wasteKWh, idleKWh, cost, runningHours, plannedHours } = sums
  const kWh = (value: number) => `${number(value)} kWh`
  return (
    <div className="explain">
      <h2>{row.name}</h2>
      <p>
        {month ? (
          <>
            Figures of {monthName(month)}:{' '}
            <Link href={`/months/${month}?q=${encodeURIComponent(row.name)}`}>
              its logs, kinds of waste and data quality
            </Link>
            .
          </>
        ) : (
          'Figures of its latest log, which has no date.'
        )}{' '}
        <Link href={`/machines/${row.id}`}>The machine’s page</Link> opens every figure of its latest log to
        sensors, models and interval.
      </p>
      <dl>
        <dt>Waste</dt>
        <dd>
          {kWh(wasteKWh)} ÷ {kWh(inputKWh)} electric input = {percent(row.wasteShare)}
        </dd>
        <dt>Idle</dt>
        <dd>
          {kWh(idleKWh)} while no actuator moves ÷ {kWh(inputKWh)} = {percent(row.idleShare)}
        </dd>
        <dt>Cost per hour run</dt>
        <dd>
          {cost === null || runningHours === null
            ? 'no data: a log without a date has no price'
            : `${number(cost)} ${currency} ÷ ${number(runningHours)} h with the motor running = ${number(row.costPerHourRun)} ${currency}/h`}
        </dd>
        <dt>Energy per cycle</dt>
        <dd>
          {row.kWhPerCycle === null
            ? 'no data: no cycle was found'
            : `${kWh(inputKWh)} ÷ ${number(inputKWh / row.kWhPerCycle)} cycles found = ${number(row.kWhPerCycle)} kWh`}
        </dd>
        <dt>Coverage</dt>
        <dd>
          {runningHours === null || plannedHours === null
            ? 'no data: a log without a date belongs to no month'
            : `${number(runningHours)} h logged ÷ ${number(plannedHours)} h planned = ${percent(row.coverageShare)}`}
        </dd>
        <dt>Best option</dt>
        <dd>
          {row.bestOption && row.bestSavedKWhPerYear !== null
            ? `${optionTitle(row.bestOption)}: ${number(row.bestSavedKWhPerYear)} kWh/yr, the log of ${dateOnly(row.lastLogAt, timeZone)} replayed with it`
            : 'none found that saves'}
        </dd>
      </dl>
    </div>
  )
}
