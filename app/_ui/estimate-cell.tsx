import type { Estimate } from '@/lib/contract/estimate'
import { estimateParts, NO_DATA } from './format'
import { BASIS_MARKS, BASIS_NAMES } from './labels'

/** One estimate in a table cell: value, interval, and a mark where it is not measured. */
export function EstimateCell({
  estimate,
  scale = 1,
  absent = NO_DATA,
  label,
}: {
  estimate: Estimate | null | undefined
  scale?: number
  absent?: string
  /** What the figure is, for a table that stacks its rows on a phone. */
  label?: string
}) {
  if (!estimate)
    return (
      <td className="num nodata" data-label={label}>
        {absent}
      </td>
    )
  const { value, interval } = estimateParts(estimate, scale)
  return (
    <td className="num" data-label={label}>
      {value}{' '}
      <span className="pm">
        {interval}
        <abbr className="basis" title={BASIS_NAMES[estimate.basis]}>
          {BASIS_MARKS[estimate.basis]}
        </abbr>
      </span>
    </td>
  )
}

/** What the marks behind figures mean; stands beneath every table that has them. */
export function BasisLegend() {
  return (
    <p className="small soft foot-note">
      Behind a figure: <b>e</b> estimated from a model fed by sensors, <b>d</b> from defaults alone; without a
      mark it is measured. ± and ranges are 95 % intervals.
    </p>
  )
}
