import type { Estimate } from '@/lib/contract/estimate'
import { estimateParts, NO_DATA } from '../format'
import { BASIS_NAMES } from '../labels'
import { How } from './how'

/** A figure that opens to how it was reached. */
export interface HowRow {
  readonly name: string
  /** Its path in the result. */
  readonly figure: string
  readonly unit: string
  readonly estimate?: Estimate | null
  readonly scale?: number
  /** In place of an estimate, for figures without an interval. */
  readonly text?: string
  /** What stands where there is no value; such a row does not open. */
  readonly absent?: string
}

/** Figures one beneath the other, each with value, interval and basis, and each opening to how it was reached. */
export function HowList({ logId, rows, label }: { logId: string; rows: readonly HowRow[]; label: string }) {
  return (
    <ul className="how-list" aria-label={label}>
      {rows.map((row) => (
        <li key={row.figure}>
          <Row row={row} logId={logId} />
        </li>
      ))}
    </ul>
  )
}

function Row({ row, logId }: { row: HowRow; logId: string }) {
  const { name, figure, unit, estimate, scale = 1, text, absent = NO_DATA } = row
  const parts = estimate ? estimateParts(estimate, scale) : null
  const isKnown = parts !== null || (text !== undefined && text !== NO_DATA)
  const line = (
    <>
      <span className="name">{name}</span>
      <span className={isKnown ? 'num' : 'num nodata'}>
        {parts?.value ?? text ?? absent} <span className="pm">{parts?.interval}</span>
      </span>
      <span className="unit">{isKnown ? unit : ''}</span>
      <span className="soft small">{estimate ? BASIS_NAMES[estimate.basis] : ''}</span>
    </>
  )
  if (!isKnown) return <div className="how-row">{line}</div>
  return (
    <details>
      <summary className="how-row">{line}</summary>
      <How logId={logId} figure={figure} />
    </details>
  )
}
