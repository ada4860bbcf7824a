import type { Result } from '@/lib/contract/result'
import { count, dateTime, duration, number } from '../format'
import { QUANTITY_NAMES } from '../labels'
import { destinationWords } from '../streams'
import { ProblemPlace } from './problem-place'
import { sensorsOf } from './sensor-lines'
import { sensorWords } from './sensor-words'

function unitOf({ log }: Result, column: string): string {
  const unit = log.channels.find((channel) => channel.column === column)?.unit
  return unit ? ` ${unit}` : ''
}

/** What the log is, what was wrong with it, and what its sensors cannot tell. */
export function LogFacts({ result }: { result: Result }) {
  const { log, site, notSeparable } = result
  return (
    <>
      {log.problems.length ? (
        <ul>
          {log.problems.map((problem) => (
            <li key={`${problem.code}-${problem.line}-${problem.column}`}>
              {problem.message}
              <ProblemPlace problem={problem} />
            </li>
          ))}
        </ul>
      ) : (
        <p>No problems in this log.</p>
      )}
      {notSeparable.length ? (
        <div className="note">
          <p>These sensors cannot separate:</p>
          <ul>
            {notSeparable.map(({ stream, sensor }) => (
              <li key={stream}>
                <strong>{destinationWords(stream)}</strong>: would take {sensorWords(sensor)}
              </li>
            ))}
          </ul>
        </div>
      ) : null}
      <dl className="pairs">
        <dt>From</dt>
        <dd>{dateTime(log.startedAt, site.timeZone)}</dd>
        <dt>To</dt>
        <dd>{dateTime(log.endedAt, site.timeZone)}</dd>
        <dt>Length</dt>
        <dd>{duration(log.durationS)}</dd>
        <dt>One sample every</dt>
        <dd>{duration(log.sampleIntervalS)}</dd>
        <dt>Rows</dt>
        <dd>
          {count(log.rowsRead)} read, {count(log.rowsUsed)} used, {count(log.rowsRejected)} rejected
        </dd>
        <dt>Gaps</dt>
        <dd>
          {log.gaps.length
            ? `${count(log.gaps.length)}, ${duration(log.gaps.reduce((sum, gap) => sum + gap.endS - gap.startS, 0))} in all; never bridged`
            : 'none'}
        </dd>
        <dt>Sensor offsets found and taken off</dt>
        <dd>
          {log.offsets.length
            ? log.offsets
                .map(({ column, offset }) => `${column}: ${number(offset)}${unitOf(result, column)}`)
                .join('; ')
            : 'none'}
          {log.offsets.length ? (
            <span className="how">
              What a sensor shows at rest (motor stopped, relief closed), judged by all sensors together
              within the accuracy of each; every figure here is without it, the traces show what was logged.
            </span>
          ) : null}
        </dd>
        <dt>Scaled with</dt>
        <dd>
          {number(site.plannedHoursPerYear)} planned h/yr, {number(site.energyPricePerKWh)} {site.currency}
          /kWh, {number(site.emissionKgPerKWh)} kg CO₂/kWh
        </dd>
      </dl>
      <details className="twin">
        <summary>Channels as understood</summary>
        <ul>
          {sensorsOf(result, Object.keys(QUANTITY_NAMES) as (keyof typeof QUANTITY_NAMES)[]).map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </details>
    </>
  )
}
