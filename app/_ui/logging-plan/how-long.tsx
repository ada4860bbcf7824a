import Link from 'next/link'
import type { LoggingPlanView } from '@/app/_server/views/logging-plan-view'
import { parts as PART_NAMES } from '@/app/_words/en/interval'
import { loggingPlan as WORDS } from '@/app/_words/en/logging-plan'
import type { PartSource } from '@/lib/explain/parts'
import { type Length, leastHalf } from '@/lib/logging-plan/length'
import { ASSUMED_DEGREES, type Scatter, UNIT_LEVELS } from '@/lib/logging-plan/scatter'
import { count, duration, number, percent } from '../format'
import { Scroll } from '../scroll'
import { Opened } from './opened'
import { halfText, plusMinus, sensorName } from './plan-words'

const NONE = 'never'

/** How much must be logged for each certainty, what that rests on, and what no time removes. */
export function HowLong({ view }: { view: LoggingPlanView }) {
  const { plan } = view
  return (
    <section className="sheet">
      <h2>How long</h2>
      <Scroll label="Length of logging by certainty">
        <table className="plan-numbers">
          <caption>
            Running time for a yearly waste known within so much (95 %), by each kind of unit by itself; the
            longest counts
          </caption>
          <thead>
            <tr>
              <th scope="col">Within</th>
              <th scope="col" className="num">
                Left for the scatter
              </th>
              <th scope="col" className="num">
                Cycles
              </th>
              <th scope="col" className="num">
                Hours
              </th>
              <th scope="col" className="num">
                Days
              </th>
              <th scope="col" className="num">
                Running time
              </th>
            </tr>
          </thead>
          <tbody>
            {plan.lengths.map((length) => (
              <LengthRow
                key={length.wanted}
                length={length}
                isWanted={length.wanted === plan.wishes.wanted}
              />
            ))}
          </tbody>
        </table>
      </Scroll>
      <ScatterTable view={view} />
      <WhatStays view={view} />
    </section>
  )
}

function LengthRow({ length, isWanted }: { length: Length; isWanted: boolean }) {
  const units = UNIT_LEVELS.map((level) => length.levels.find((one) => one.level === level)?.units ?? null)
  return (
    <tr className={isWanted ? 'total' : undefined}>
      <th scope="row">
        {plusMinus(length.wanted)} {isWanted ? <span className="tag">wanted</span> : null}
      </th>
      <td className="num">{length.room === null ? 'nothing' : plusMinus(length.room)}</td>
      {UNIT_LEVELS.map((level, k) => (
        <td key={level} className="num">
          {units[k] === null ? <span className="nodata">{NONE}</span> : count(units[k])}
        </td>
      ))}
      <td className="num">
        {length.runningS === null ? <span className="nodata">{NONE}</span> : duration(length.runningS)}
      </td>
    </tr>
  )
}

function ScatterTable({ view: { plan, logCount } }: { view: LoggingPlanView }) {
  const isAllAssumed = plan.scatters.every(({ seen }) => seen === 0)
  return (
    <>
      <h3 className="spaced">What it rests on: how far one unit is from the mean</h3>
      {isAllAssumed ? (
        <p>
          <span className="tag warn">assumption</span>{' '}
          {logCount === 0
            ? 'Nothing was logged on this machine yet: the scatter below is assumed (common practice, no source).'
            : 'Its logs are too short to show a scatter: it is assumed (common practice, no source).'}{' '}
          After the first visit this page works with what was seen.
        </p>
      ) : (
        <p>
          From {logCount === 1 ? 'the one log' : `the latest ${logCount} logs`} of this machine, each phase at
          the mean rate of its kind; what was not seen often enough is assumed.
        </p>
      )}
      <Scroll label="Scatter of cycles, hours and days">
        <table className="plan-numbers">
          <thead>
            <tr>
              <th scope="col">Unit</th>
              <th scope="col" className="num">
                Seen
              </th>
              <th scope="col" className="num">
                Scatter seen <span className="unit">1 sd, of the mean</span>
              </th>
              <th scope="col" className="num">
                Assumed <span className="unit">1 sd, of the mean</span>
              </th>
              <th scope="col" className="num">
                Reckoned with
              </th>
              <th scope="col" className="num">
                Running time of one
              </th>
            </tr>
          </thead>
          <tbody>
            {plan.scatters.map((scatter) => (
              <ScatterRow key={scatter.level} scatter={scatter} />
            ))}
          </tbody>
        </table>
      </Scroll>
    </>
  )
}

function ScatterRow({ scatter }: { scatter: Scatter }) {
  const { level, shareSd, runningS, seen, seenSd, assumedSd } = scatter
  return (
    <tr>
      <th scope="row">{WORDS.levels[level][0]}</th>
      <td className="num">{count(seen)}</td>
      <td className="num">{seenSd === null ? <span className="nodata">no data</span> : percent(seenSd)}</td>
      <td className="num">{percent(assumedSd)}</td>
      <td className="num">
        <Opened
          explanation={{
            formula: `√(((n − 1) · s_seen² + ${ASSUMED_DEGREES} · s_assumed²) ÷ (n − 1 + ${ASSUMED_DEGREES}))`,
            inputs: [
              `n = ${count(seen)} ${WORDS.levels[level][1]} seen`,
              `s_seen = ${seenSd === null ? 'no data (fewer than three)' : percent(seenSd)}`,
              `s_assumed = ${percent(assumedSd)} (common practice, no source)`,
            ],
            note: 'Few units hide the seldom long pause, so what is assumed keeps the weight of eleven units.',
          }}
        >
          {percent(shareSd)}
        </Opened>
      </td>
      <td className="num">{duration(runningS)}</td>
    </tr>
  )
}

const MOST_PARTS = 3
const LEAST_GONE = 0.02
const isPart = (source: string): source is PartSource => Object.hasOwn(PART_NAMES, source)

/** Sensors and hours, which no length of logging makes any better, and what would. */
function WhatStays({ view }: { view: LoggingPlanView }) {
  const { plan } = view
  const { fixed, rehearsal, stations, missing } = plan
  const least = leastHalf(fixed)
  if (!rehearsal || fixed.sensors === null || least === null) {
    return (
      <div className="note bad">
        <p>With these sensors nothing tells the electric input: no length of logging gives the waste.</p>
      </div>
    )
  }
  const { sensors } = fixed
  const parts = rehearsal.wasteParts
    .filter(({ goneIfKnown }) => goneIfKnown > LEAST_GONE)
    .sort((a, b) => b.goneIfKnown - a.goneIfKnown)
    .slice(0, MOST_PARTS)
  const better = stations
    .filter(({ isFitted, worth }) => !isFitted && worth?.wasteWith != null && worth.wasteWith < 0.9 * sensors)
    .sort((a, b) => (a.worth?.wasteWith ?? 1) - (b.worth?.wasteWith ?? 1))[0]
  const datum = missing
    .filter(({ narrowed }) => narrowed?.waste != null && narrowed.waste < 0.95 * sensors)
    .sort((a, b) => (a.narrowed?.waste ?? 1) - (b.narrowed?.waste ?? 1))[0]
  return (
    <>
      <h3 className="spaced">What no time removes: {plusMinus(least)}</h3>
      <ul>
        <li>
          <strong>Sensors and models {plusMinus(sensors)}.</strong> A sensor is off by one constant amount all
          the time.
          {parts.length ? ' Were it known exactly, there would be left: ' : ''}
          {parts
            .map(
              ({ source, goneIfKnown }) =>
                `${isPart(source) ? PART_NAMES[source].toLowerCase() : source}, ${plusMinus(sensors * Math.sqrt(1 - goneIfKnown))}`,
            )
            .join('; ')}
          {parts.length ? '.' : ''}
          {better
            ? ` Best added: ${sensorName(better.id).toLowerCase()}, to ${halfText(better.worth?.wasteWith ?? null)}.`
            : ''}
          {datum
            ? ` Best noted: ${WORDS.missing[datum.field].name.toLowerCase()}, to ${halfText(datum.narrowed?.waste ?? null)}.`
            : ''}
        </li>
        <li>
          <strong>Hours of the year {plusMinus(fixed.hours)}.</strong> How far a year may be from the planned{' '}
          {number(view.site.plannedHoursPerYear)} h stands on the <Link href="/site">Site</Link> page.
        </li>
        {plan.wasteWithoutRest !== null && plan.wasteWithoutRest > 1.05 * sensors ? (
          <li>
            <strong>A minute at rest is worth it:</strong> a log that never shows the machine stopped would
            leave {halfText(plan.wasteWithoutRest)} by the sensors in place of {halfText(sensors)}.
          </li>
        ) : null}
      </ul>
    </>
  )
}
