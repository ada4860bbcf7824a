import type { Estimate } from '@/lib/contract/estimate'
import { estimateParts, NO_DATA } from './format'
import { BASIS_NAMES } from './labels'

/** One estimate in a table cell: value, interval, and a mark where it is not measured. */
export function EstimateCell({
  estimate,
  scale = 1,
  absent = NO_DATA,
}: {
  estimate: Estimate | null | undefined
  scale?: number
  absent?: string
}) {
  if (!estimate) return <td className="num nodata">{absent}</td>
  const { value, interval } = estimateParts(estimate, scale)
  return (
    <td className="num" title={`95 % interval; ${BASIS_NAMES[estimate.basis]}`}>
      {value} <span className="pm">{interval}</span>
    </td>
  )
}
