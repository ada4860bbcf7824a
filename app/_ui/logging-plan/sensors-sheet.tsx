import type { LoggingPlanView } from '@/app/_server/views/logging-plan-view'
import { loggingPlan as WORDS } from '@/app/_words/en/logging-plan'
import type { DutyMix } from '@/lib/logging-plan/duty-mix'
import type { PlannedStation } from '@/lib/logging-plan/plan'
import type { StationId } from '@/lib/logging-plan/stations'
import { tick } from '../format'
import { OPTION_WORDS } from '../labels'
import { Scroll } from '../scroll'
import { Blank, Opened } from './opened'
import {
  accuracyText,
  halfText,
  mixLines,
  rangeExplanation,
  reasonLines,
  ruleLines,
  sensorName,
  tooShortText,
} from './plan-words'

/** Which sensors where, why each, and what each must be able to do. */
export function SensorsSheet({ view }: { view: LoggingPlanView }) {
  const { plan } = view
  const fitted = plan.stations.filter(({ isFitted }) => isFitted)
  // An option that no sensor would let be judged waits for something else.
  const unjudged = [
    ...new Set(plan.stations.flatMap(({ isFitted, worth }) => (isFitted || !worth ? [] : worth.unjudged))),
  ]
  return (
    <section className="sheet">
      <h2>Which sensors where</h2>
      {plan.rehearsal ? null : (
        <div className="note bad" role="alert">
          <p>Without the pump’s pressure there is no account: add it to the sensors.</p>
        </div>
      )}
      <Scroll label="Sensors to be fitted">
        <table className="stacks plan-table">
          <thead>
            <tr>
              <th scope="col">Sensor and place</th>
              <th scope="col">Why</th>
              <th scope="col">Range, accuracy, signal</th>
              <th scope="col">
                Waste of a year <span className="unit">with it / without it</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {fitted.map((station) => (
              <SensorRow key={station.id} station={station} mix={plan.mix} />
            ))}
          </tbody>
        </table>
      </Scroll>
      <Choosing stations={fitted.map(({ id }) => id)} />
      {unjudged.length ? (
        <p className="foot-note">
          <strong>Cannot be judged with these sensors:</strong>{' '}
          {unjudged.map((id) => OPTION_WORDS[id].title.toLowerCase()).join(', ')}. What would let them be
          judged stands below.
        </p>
      ) : null}
    </section>
  )
}

/** What to look at when the sensors are chosen, each thing once with the sensors that it is for. */
function Choosing({ stations }: { stations: readonly StationId[] }) {
  const lines = new Map<string, string[]>()
  for (const id of stations) {
    const { name, choose } = WORDS.stations[id]
    for (const line of choose) lines.set(line, [...(lines.get(line) ?? []), name.toLowerCase()])
  }
  return (
    <>
      <h3 className="spaced">Choosing and fitting them</h3>
      <ul className="boxes">
        {[...lines].map(([line, names]) => (
          <li key={line}>
            {line} <span className="soft small">({names.join(', ')})</span>
          </li>
        ))}
      </ul>
    </>
  )
}

function SensorRow({ station: { id, sensor, worth }, mix }: { station: PlannedStation; mix: DutyMix }) {
  const words = WORDS.stations[id]
  const { range, accuracy, overload } = sensor
  const tooShort = tooShortText(sensor)
  return (
    <tr>
      <th scope="row">
        {words.name}
        <span className="how">{words.place}</span>
      </th>
      <td data-label="Why">
        <ul className="plain">
          <li>{sentence(words.serves)}</li>
          {reasonLines(id, worth).map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </td>
      <td data-label="Range, accuracy, signal">
        {range ? (
          <Opened explanation={rangeExplanation(sensor)}>
            0 to {tick(range.usual)} {range.unit}
          </Opened>
        ) : null}
        <ul className="plain">
          {accuracy && range ? <li>{accuracyText(accuracy, range.unit)}</li> : null}
          {overload && range ? (
            <li>
              stands {tick(overload.value)} {range.unit} for moments
            </li>
          ) : null}
          {tooShort ? (
            <li>
              <span className="tag warn">range</span> {tooShort}
            </li>
          ) : null}
          <li>{WORDS.signals[sensor.signal]}</li>
        </ul>
      </td>
      <td data-label="Waste with it / without it">
        <Worth worth={worth} mix={mix} />
      </td>
    </tr>
  )
}

const sentence = (text: string) => `${text[0].toUpperCase()}${text.slice(1)}.`

/** Half-widths of the waste with and without a sensor, opening to the rules that change. */
export function Worth({ worth, mix }: { worth: PlannedStation['worth']; mix: DutyMix }) {
  if (!worth) return <span className="nodata">no data</span>
  const rules = ruleLines(worth)
  return (
    <Opened
      explanation={{
        formula:
          'half-width of the 95 % interval of the waste ÷ waste, by the engine’s account of the same rehearsed visit with and without this sensor',
        inputs: mixLines(mix),
      }}
      more={
        rules.withIt.length ? (
          <div className="explain">
            <Rules title="With it" lines={rules.withIt} />
            {rules.without.length ? <Rules title="Without it" lines={rules.without} /> : null}
          </div>
        ) : null
      }
    >
      <span className="nowrap">{halfText(worth.wasteWith)}</span> /{' '}
      <span className="nowrap">{halfText(worth.wasteWithout)}</span>
    </Opened>
  )
}

function Rules({ title, lines }: { title: string; lines: readonly string[] }) {
  return (
    <>
      <h3>{title}</h3>
      {lines.map((line) => (
        <p key={line} className="formula">
          {line}
        </p>
      ))}
    </>
  )
}

/** What an auditor needs of each sensor, written in on site. */
const EVIDENCE = [
  'Serial number',
  'Certificate, date',
  'Range set, channel',
  'Zero at rest, before',
  'Zero at rest, after',
]

/** On paper: what an auditor asks of each sensor later. */
export function EvidenceSheet({ view }: { view: LoggingPlanView }) {
  const fitted = view.plan.stations.filter(({ isFitted }) => isFitted)
  return (
    <section className="sheet evidence">
      <h2>Evidence of each sensor, to be filled in on site</h2>
      <p>
        Serial number and certificate show later that a figure was measured; the zero readings at rest are
        what the analysis takes off.
      </p>
      <Scroll label="Evidence of each sensor">
        <table className="stacks plan-table to-fill">
          <thead>
            <tr>
              <th scope="col">Sensor</th>
              {EVIDENCE.map((label) => (
                <th key={label} scope="col">
                  {label}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {fitted.map(({ id, sensor }) => (
              <tr key={id}>
                <th scope="row">
                  {sensorName(id)}
                  {sensor.range ? <span className="unit">{sensor.range.unit}</span> : null}
                </th>
                {EVIDENCE.map((label) => (
                  <td key={label} data-label={label}>
                    <Blank />
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
    </section>
  )
}
