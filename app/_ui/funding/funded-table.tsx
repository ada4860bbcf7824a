import Link from 'next/link'
import { fundingAddress } from '@/app/_server/views/funding-query'
import type { FundingView } from '@/app/_server/views/funding-view'
import { BasisLegend, EstimateCell } from '../estimate-cell'
import { number } from '../format'
import { NumHead } from '../num-head'
import { MachineHead, StackedTable } from '../stacked-table'
import { choiceName } from './choice-name'
import { firstOf } from './first-of'

/** What to fund, machine by machine; the figures open on the machine's own page. */
export function FundedTable({ view }: { view: FundingView }) {
  const { funding, site, names, untrusted, aim, usualAim, query } = view
  const { funded } = funding
  const { shown, more } = firstOf(funded, query, 'funded', 'machines')
  const { currency } = site
  const hasPlaceholders = funded.some(({ choice }) => choice.isPlaceholder)
  return (
    <>
      <p className="soft">
        {aim === 'energy'
          ? `The most energy for the money.${usualAim === 'energy' && query.aim === null ? ' Some investments are placeholders, so what is worth most is not known yet.' : ''}`
          : 'The highest net present value for the money.'}{' '}
        Each machine’s figures open among its options.{' '}
        {hasPlaceholders ? (
          <>
            * rests on a placeholder investment, not on a quote: <a href="/site#option-costs">enter quotes</a>
            .
          </>
        ) : null}
      </p>
      {funded.length === 0 ? (
        <p className="nodata">
          Nothing is funded: see beneath what was left out and why, and what more money would buy.
        </p>
      ) : (
        <>
          <StackedTable
            label="To fund"
            head={
              <>
                <th scope="col" style={{ minWidth: '9rem' }}>
                  Machine and fixes, in this order
                </th>
                <NumHead name="Investment" unit={`${currency}, ± 95 %`} />
                <NumHead name="Net present value" unit={`${currency}, ± 95 %`} />
                <NumHead name="Saved" unit="kWh/yr, ± 95 %" />
                <NumHead name="Cost of a saved kWh" unit={`${currency}/kWh`} />
                <th scope="col" className="screen-only">
                  <span className="sr">Change</span>
                </th>
              </>
            }
          >
            {shown.map(({ machineId, choice }) => (
              <tr key={machineId}>
                <MachineHead id={machineId} name={names.get(machineId)} part="#options">
                  {' '}
                  {untrusted.has(machineId) ? <span className="tag warn">model not trusted</span> : null}
                  <span className="how">
                    {choiceName(choice)}
                    {choice.isPlaceholder ? '*' : ''}
                  </span>
                </MachineHead>
                <EstimateCell estimate={choice.investment} label={`Investment, ${currency}`} />
                <EstimateCell estimate={choice.netPresentValue} label={`Net present value, ${currency}`} />
                <EstimateCell estimate={choice.savedKWhPerYear} label="Saved, kWh/yr" />
                <td className="num" data-label={`Cost of a saved kWh, ${currency}/kWh`}>
                  {number(choice.yearlyCost / choice.savedKWhPerYear.value)}
                </td>
                <td className="screen-only">
                  <Link href={fundingAddress(query, [...query.without, machineId])}>
                    leave out<span className="sr">: {names.get(machineId)}</span>
                  </Link>
                </td>
              </tr>
            ))}
          </StackedTable>
          {more}
          <BasisLegend />
        </>
      )}
    </>
  )
}
