import type { Result } from '@/lib/contract/result'
import { estimate } from '../format'
import { DESTINATIONS } from '../streams'
import { streamExplanations } from './explanations'

/** How every line of the account is reached; opens beneath it. */
export function LedgerExplained({ result }: { result: Result }) {
  return (
    <details className="twin">
      <summary>How each line is reached</summary>
      <div className="explain">
        <p>
          Power is the product below in every sample; energy is power times the time the sample holds. Where a
          flow is not logged it follows from the node balance at the pump outlet (pump flow = system + relief
          + unloading) and the pump’s model; a measured value outranks an estimated one. Intervals take each
          sensor’s accuracy as one constant offset a log, and the spread of every default that was used.
        </p>
        <dl>
          {streamExplanations(result).map(({ stream, formula, sensors }) => (
            <div key={stream} style={{ display: 'contents' }}>
              <dt>{DESTINATIONS[stream].label}</dt>
              <dd>
                {formula}:{' '}
                {result.ledgerKWh[stream] ? estimate(result.ledgerKWh[stream], 'kWh') : 'not separable'}.{' '}
                <span className="soft">{sensors.length ? sensors.join('; ') : 'No sensor of this log.'}</span>
              </dd>
            </div>
          ))}
          <dt>At the meter</dt>
          <dd>
            electric input of each sample, shared over the hydraulic streams in proportion to their power; all
            of it is idle while no actuator moves
          </dd>
          <dt>By phase</dt>
          <dd>the same sums over the samples of each phase; mean input = electric input ÷ time</dd>
        </dl>
      </div>
    </details>
  )
}
