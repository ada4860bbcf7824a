import Link from 'next/link'
import type { MeasureOfMonth } from '@/app/_server/views/month-view'
import { optionTitle } from '@/app/_words/en/option-title'
import { proofWords } from '@/app/_words/en/proof'
import { EstimateCell } from '../estimate-cell'
import { useFirstRows } from '../first-rows'
import { NumHead } from '../num-head'
import { MachineHead, StackedTable } from '../stacked-table'

/** What its proof came to; until then that there is none yet, where one is to be expected. */
function proofOf({ state, verdict }: MeasureOfMonth) {
  if (verdict) return verdict
  return state === 'rejected' ? '–' : <span className="soft">not proven yet</span>
}

/** What was decided about the machines shown, and how it is doing. */
export function Decided({ measures }: { measures: readonly MeasureOfMonth[] }) {
  const { shown, more } = useFirstRows(measures, 'measures')
  if (!measures.length) return <p className="nodata">Nothing has been decided about the machines shown.</p>
  return (
    <>
      <StackedTable
        label="Measures and how they are doing, those touched last first"
        head={
          <>
            <th scope="col">Machine</th>
            <th scope="col">Measure</th>
            <th scope="col">State</th>
            <th scope="col">Owner</th>
            <NumHead name="Promised" unit="kWh/yr, ± 95 %" />
            <th scope="col">Proof</th>
          </>
        }
      >
        {shown.map((one) => (
          <tr key={one.id}>
            <MachineHead id={one.machineId} name={one.machineName} />
            <td className="whole">
              <Link href={`/measures/${one.id}`}>{one.optionId ? optionTitle(one.optionId) : one.title}</Link>
            </td>
            <td data-label="State">
              {proofWords.states[one.state]}
              {one.on ? <span className="soft small"> since {one.on}</span> : null}
              {one.reason ? <span className="soft small"> ({one.reason})</span> : null}
            </td>
            <td data-label="Owner">{one.owner ?? '–'}</td>
            <EstimateCell estimate={one.expected?.savedKWhPerYear ?? null} label="Promised, kWh/yr" />
            <td className="wrap whole" data-label="Proof">
              {proofOf(one)}
            </td>
          </tr>
        ))}
      </StackedTable>
      {more}
    </>
  )
}
