import type { ReactNode } from 'react'
import type { Estimate } from '@/lib/contract/estimate'
import { How } from './explain/how'
import { estimateParts, NO_DATA } from './format'
import { BASIS_NAMES } from './labels'

/** What stands behind a figure that is no log's own: shown when it is opened. */
export interface Explanation {
  readonly formula: string
  readonly inputs?: readonly string[]
  /** Inputs too many to stand here at once. */
  readonly more?: ReactNode
  readonly sensors?: readonly string[]
  readonly note?: string
}

/** A headline figure with its interval; it opens to formula, inputs, sensors and basis. */
export function Figure({
  name,
  estimate,
  text,
  unit,
  scale = 1,
  absent = NO_DATA,
  explanation,
  how,
  children,
}: {
  name: string
  estimate?: Estimate | null
  text?: string
  unit?: string
  scale?: number
  absent?: string
  explanation?: Explanation
  /** A figure of a log: how it was reached is asked for when it is opened. */
  how?: { readonly logId: string; readonly figure: string }
  children?: ReactNode
}) {
  const parts = estimate ? estimateParts(estimate, scale) : null
  const value = parts?.value ?? text ?? absent
  const known = parts !== null || (text !== undefined && text !== NO_DATA)
  return (
    <details className="figure">
      <summary>
        <span className="name">{name}</span>
        <span className={known ? 'value' : 'value nodata'}>
          {value} {known && unit ? <span className="unit-inline">{unit}</span> : null}
        </span>
        <span className="soft small">
          {parts?.interval ? `${parts.interval} · ` : ''}
          {estimate ? `${BASIS_NAMES[estimate.basis]} · ` : ''}
          {children}
          {children ? ' · ' : ''}
          <span className="more">how</span>
        </span>
      </summary>
      {how ? <How logId={how.logId} figure={how.figure} /> : null}
      {explanation ? (
        <Explain explanation={explanation} estimate={estimate} unit={unit} scale={scale} />
      ) : null}
    </details>
  )
}

/** Formula, inputs, sensors, basis and interval of one figure. */
export function Explain({
  explanation,
  estimate,
  unit = '',
  scale = 1,
}: {
  explanation: Explanation
  estimate?: Estimate | null
  unit?: string
  scale?: number
}) {
  const { formula, inputs, more, sensors, note } = explanation
  return (
    <div className="explain">
      <dl>
        <dt>Formula</dt>
        <dd>{formula}</dd>
        {inputs?.length || more ? (
          <>
            <dt>Inputs</dt>
            <dd>
              {inputs ? <Lines of={inputs} /> : null}
              {more}
            </dd>
          </>
        ) : null}
        {sensors ? (
          <>
            <dt>Sensors</dt>
            <dd>
              <Lines of={sensors.length ? sensors : ['none fitted for this']} />
            </dd>
          </>
        ) : null}
        {estimate ? (
          <>
            <dt>Basis</dt>
            <dd>{BASIS_NAMES[estimate.basis]}</dd>
            <dt>95 % interval</dt>
            <dd>
              {
                estimateParts(
                  { ...estimate, value: estimate.low, low: estimate.low, high: estimate.high },
                  scale,
                ).value
              }{' '}
              to{' '}
              {
                estimateParts(
                  { ...estimate, value: estimate.high, low: estimate.low, high: estimate.high },
                  scale,
                ).value
              }{' '}
              {unit}
            </dd>
          </>
        ) : null}
        {note ? (
          <>
            <dt>Note</dt>
            <dd>{note}</dd>
          </>
        ) : null}
      </dl>
    </div>
  )
}

function Lines({ of }: { of: readonly string[] }) {
  return of.map((line) => (
    <span key={line} className="line">
      {line}
    </span>
  ))
}
