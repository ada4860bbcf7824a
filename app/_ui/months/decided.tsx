import Link from 'next/link'
import type { MeasureOfMonth } from '@/app/_server/views/month-view'
import type { MeasureState } from '@/lib/contract/measure'
import { EstimateCell } from '../estimate-cell'
import { OPTION_WORDS } from '../labels'
import { Scroll } from '../scroll'

const STATE_NAMES: Readonly<Record<MeasureState, string>> = {
  proposed: 'proposed',
  approved: 'approved',
  ordered: 'ordered',
  installed: 'installed',
  verified: 'verified',
  rejected: 'rejected',
}

/** What was decided about the machines shown, and how it is doing. */
export function Decided({ measures }: { measures: readonly MeasureOfMonth[] }) {
  if (!measures.length) return <p className="nodata">Nothing has been decided about the machines shown.</p>
  return (
    <Scroll label="What was decided">
      <table>
        <caption className="sr">Measures and how they are doing, those touched last first</caption>
        <thead>
          <tr>
            <th scope="col">Machine</th>
            <th scope="col">Measure</th>
            <th scope="col">State</th>
            <th scope="col">Owner</th>
            <th scope="col" className="num">
              Promised <span className="unit">kWh/yr, ± 95 %</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {measures.map((one) => (
            <tr key={one.id}>
              <th scope="row">
                <Link href={`/machines/${one.machineId}`}>{one.machineName}</Link>
              </th>
              <td>
                <Link href={`/measures/${one.id}`}>
                  {one.optionId ? OPTION_WORDS[one.optionId].title : one.title}
                </Link>
              </td>
              <td>
                {STATE_NAMES[one.state]}
                {one.on ? <span className="soft small"> since {one.on}</span> : null}
                {one.reason ? <span className="soft small"> ({one.reason})</span> : null}
              </td>
              <td>{one.owner ?? '–'}</td>
              <EstimateCell estimate={one.expected?.savedKWhPerYear ?? null} />
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  )
}
