import type { LoggingPlanView } from '@/app/_server/views/logging-plan-view'
import { S_PER_HOUR } from '@/lib/units'
import { bytes, count, duration, tick } from '../format'
import { Opened } from './opened'

/** Characters of a row: the time, then each value with its comma (common practice, no source). */
const TIME_CHARACTERS = 24
const VALUE_CHARACTERS = 8

/** How the logger is set: rate, clock, start and stop, file. */
export function LoggerSettings({ view }: { view: LoggingPlanView }) {
  const { plan, site } = view
  const { rate, visits, wishes } = plan
  const eachS = visits?.eachS ?? S_PER_HOUR
  const rows = rate.rateHz * eachS
  const size = rows * (TIME_CHARACTERS + VALUE_CHARACTERS * wishes.stations.length)
  return (
    <section className="sheet">
      <h2>Setting the logger</h2>
      <ul className="boxes">
        <li>
          All channels at {tick(rate.rateHz)} Hz, one file, raw values: no averaging, no filter in the logger.
          A flow meter that needs seconds to settle is found out in the analysis and costs certainty.
        </li>
        <li>
          Clock set to the time at the site, {site.timeZone}, against a reference, and noted:{' '}
          <span className="blank" /> off by <span className="blank" /> s. Two loggers: both at once, and one
          event that both see.
        </li>
        <li>
          Started with the motor still off, stopped with the motor off again: a minute at rest before and
          after shows every sensor’s zero.
        </li>
        <li>
          Units and columns named in the header as on this sheet; date with year; a break in the recording
          left as a break.
        </li>
        <li>
          Room in the logger for{' '}
          <Opened
            explanation={{
              formula: 'rows = rate × time; size = rows × (24 + 8 × channels) characters',
              inputs: [
                `rate = ${tick(rate.rateHz)} Hz`,
                `time = ${duration(eachS)} of running time; pauses come on top`,
                `channels = ${count(wishes.stations.length)}`,
              ],
            }}
          >
            {count(rows)} rows, about {bytes(size)}, a visit
          </Opened>
        </li>
        <li>
          If an input is left: oil temperature in the tank. The account does not need it; it tells the cold
          start from the warm state.
        </li>
      </ul>
    </section>
  )
}
