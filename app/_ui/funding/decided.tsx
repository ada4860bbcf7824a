import Link from 'next/link'
import type { FundingView } from '@/app/_server/views/funding-view'
import { optionTitle } from '@/app/_words/en/option-title'
import { proofWords } from '@/app/_words/en/proof'
import { EstimateCell } from '../estimate-cell'
import { entered, NO_DATA } from '../format'
import { NumHead } from '../num-head'
import { MachineHead, StackedTable } from '../stacked-table'
import { firstOf } from './first-of'

/** What is decided already; such machines get nothing more until a log shows the change. */
export function Decided({ view }: { view: FundingView }) {
  const { decided, site, query } = view
  if (!decided.length) return null
  const { shown, more } = firstOf(decided, query, 'decided', 'measures')
  return (
    <section className="sheet" aria-labelledby="decided">
      <h2 id="decided">Decided already</h2>
      <p className="soft">
        Machines with a measure that no log shows yet are left out: what else would save there is known once
        one does. {query.isDecidedSpent ? 'Their costs are taken off the budget first.' : ''}
      </p>
      <StackedTable
        label="Decided already"
        head={
          <>
            <th scope="col">Machine</th>
            <th scope="col">Measure</th>
            <th scope="col">State</th>
            <NumHead name="Cost" unit={site.currency} />
            <NumHead name="Expected" unit="kWh/yr, ± 95 %" />
          </>
        }
      >
        {shown.map(({ machineId, machineName, measureId, measure, cost }) => (
          <tr key={measureId}>
            <MachineHead id={machineId} name={machineName} />
            <td className="whole">
              <Link href={`/measures/${measureId}`}>
                {measure.optionId ? optionTitle(measure.optionId) : measure.title}
              </Link>
            </td>
            <td data-label="State">{proofWords.states[measure.state]}</td>
            <td className="num" data-label={`Cost, ${site.currency}`}>
              {cost === null ? <span className="nodata">{NO_DATA}</span> : entered(cost)}
            </td>
            <EstimateCell estimate={measure.expected?.savedKWhPerYear} label="Expected, kWh/yr" />
          </tr>
        ))}
      </StackedTable>
      {more}
    </section>
  )
}
