import type { LoggingPlanView } from '@/app/_server/views/logging-plan-view'
import { leastHalf } from '@/lib/logging-plan/length'
import { SAMPLES_IN_PHASE } from '@/lib/logging-plan/sampling-rate'
import { Figure } from '../figure'
import { count, duration, number, percent, tick } from '../format'
import { mixLines, sensorLine } from './plan-words'

/** The plan in five figures, each opening to how it was reached. */
export function Summary({ view }: { view: LoggingPlanView }) {
  const { plan } = view
  const { fixed, length, visits, rate, wishes, rehearsal } = plan
  const least = leastHalf(fixed)
  const isReached = length.room !== null
  return (
    <div className="figures">
      <Figure
        name="Wanted: waste of a year within"
        text={`± ${percent(wishes.wanted)}`}
        explanation={{
          formula:
            'half-width of the 95 % interval ÷ waste; waste = input while idle, and what goes over the relief or to tank outside idle, at the meter',
          inputs: [`chosen above: ± ${percent(wishes.wanted)}`],
          note: 'The same waste as on the Month page, metering left out.',
        }}
      />
      <Figure
        name="Sensors and models alone"
        text={fixed.sensors === null ? undefined : `± ${percent(fixed.sensors)}`}
        explanation={{
          formula:
            'the engine’s own account of a rehearsed visit: the machine as its plates say, these sensors with the accuracies below, half-width of the 95 % interval of the waste ÷ waste (the wider side)',
          inputs: [
            sensorLine(wishes.stations),
            ...mixLines(plan.mix),
            ...(rehearsal ? [`waste: ${percent(rehearsal.wasteShare)} of the input`] : []),
          ],
          note: 'One constant offset a sensor and log: no length of logging removes it. A real machine that differs from its plates may give a wider one.',
        }}
      />
      <Figure
        name="Running time to log"
        text={length.runningS === null ? undefined : duration(visits?.totalS ?? length.runningS)}
        absent={isReached ? 'more than can be logged' : 'no length is enough'}
        explanation={{
          formula:
            'the longer of cycles and hours: fewest units n with t(n − 1) · s ÷ √n ≤ √(W² − S² − H²), and at least an hour a visit',
          inputs: [
            `wanted W = ± ${percent(wishes.wanted)}`,
            `sensors and models S = ${fixed.sensors === null ? 'no data' : `± ${percent(fixed.sensors)}`}`,
            `hours of the year against the planned ones H = ± ${percent(fixed.hours)} (Site page)`,
            least === null ? '' : `S and H together: ± ${percent(least)}`,
            length.room === null
              ? 'nothing is left for the scatter'
              : `left for the scatter: ± ${percent(length.room)}`,
          ].filter(Boolean),
          note: 'Stated below by cycles, hours and days, with the scatter s of each.',
        }}
      />
      <Figure
        name="Visits"
        text={visits ? count(visits.count) : undefined}
        absent="not settled"
        explanation={{
          formula:
            'the most of: shifts × products, days by their scatter, running time ÷ 8 h; each visit on a day of its own as far as days are asked for',
          inputs: [
            `shifts × products = ${wishes.shifts} × ${wishes.products}`,
            `days by scatter = ${length.days === null ? 'no data' : count(length.days)}`,
          ],
          note: visits ? `${duration(visits.eachS)} of running time each.` : undefined,
        }}
      />
      <Figure
        name="Sampling rate"
        text={tick(rate.rateHz)}
        unit="Hz"
        explanation={{
          formula: `${SAMPLES_IN_PHASE} samples ÷ shortest phase, up to the next usual rate`,
          inputs: [
            `shortest phase = ${number(rate.shortestPhaseS)} s`,
            `at least ${number(rate.leastHz)} Hz`,
          ],
          note: 'Each edge of a phase lies between two samples: with ten samples its length is known to a tenth. The analysis itself takes phases from 0.25 s on and from 1.5 samples.',
        }}
      />
    </div>
  )
}
