import Link from 'next/link'
import type { LoggingPlanView } from '@/app/_server/views/logging-plan-view'
import { loggingPlan as WORDS } from '@/app/_words/en/logging-plan'
import type { PlannedDatum } from '@/lib/logging-plan/plan'
import { number, tick } from '../format'
import { Scroll } from '../scroll'
import { Blank, Opened } from './opened'
import { plusMinus } from './plan-words'

/** What else a walk around the machine tells, whatever is in its set-up. */
const ALSO = [
  'Photographs of all plates, of the circuit diagram and of every sensor in its place',
  'Oil: maker’s grade and viscosity class, temperature at start and when warm',
  'Gauge at the pump: idle, working, and with the relief blowing off',
  'Relief: kind, setting as marked, seal whole or broken, remote pilot lines',
  'Noise, heat, air in the oil, leaks: where and when',
  'What the machine does in a shift: products, breaks, who switches off and when',
]

/** What the machine's set-up does not say, what it would narrow, with room to write. */
export function ToNote({ view }: { view: LoggingPlanView }) {
  const { missing } = view.plan
  return (
    <section className="sheet">
      <h2>To note on site</h2>
      <PlatesDoubted load={view.plan.motorLoad} />
      {missing.length ? (
        <>
          <p>
            Missing in the <Link href={`/machines/${view.id}/setup`}>machine’s set-up</Link>:
          </p>
          <Scroll label="Missing in the machine’s set-up">
            <table className="stacks plan-table to-fill">
              <thead>
                <tr>
                  <th scope="col">What</th>
                  <th scope="col">Where to find it</th>
                  <th scope="col">What it serves and narrows</th>
                  <th scope="col">Found</th>
                </tr>
              </thead>
              <tbody>
                {missing.map((datum) => (
                  <DatumRow key={datum.field} datum={datum} view={view} />
                ))}
              </tbody>
            </table>
          </Scroll>
        </>
      ) : (
        <p>The machine’s set-up lacks nothing that the account asks for.</p>
      )}
      <h3 className="spaced">In any case</h3>
      <ul className="boxes">
        {ALSO.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
      <div className="writing" aria-hidden="true">
        <Blank wide />
        <Blank wide />
        <Blank wide />
      </div>
    </section>
  )
}

/** Motors are chosen for about what their pump takes at full pressure; intermittent overload is usual (common practice, no source). */
const USUAL_LOAD = [0.4, 1.5] as const

/** Where pump, relief and motor cannot well belong together, one of their plates was read or entered wrongly. */
function PlatesDoubted({ load }: { load: number }) {
  if (load >= USUAL_LOAD[0] && load <= USUAL_LOAD[1]) return null
  return (
    <div className="note warn" role="note">
      <p>
        By what was entered the pump at its highest pressure takes {number(load, 2)} times what the motor is
        rated for. Look at the plates of motor and pump and at the relief’s setting again.
      </p>
    </div>
  )
}

function DatumRow({
  datum: { field, assumed, narrowed },
  view,
}: {
  datum: PlannedDatum
  view: LoggingPlanView
}) {
  const words = WORDS.missing[field]
  const { rehearsal, fixed } = view.plan
  const now = { waste: fixed.sensors, motorLoss: rehearsal?.streams.motorLoss?.halfShare ?? null }
  return (
    <tr>
      <th scope="row">
        {words.name}
        {assumed === null ? null : <span className="how">meanwhile {tick(assumed)} is assumed</span>}
      </th>
      <td data-label="Where to find it">{words.where}</td>
      <td data-label="What it serves and narrows">
        {words.serves}
        {narrowed && now.waste !== null ? (
          <Opened
            explanation={{
              formula:
                'half-widths of 95 % intervals by the engine’s account of the rehearsed visit, with this entry filled in at what is assumed now',
              inputs: [
                `waste, over the waste: ${change(now.waste, narrowed.waste)}`,
                `motor loss, over the input: ${change(now.motorLoss, narrowed.motorLoss)}`,
              ],
            }}
          >
            {narrowingText(now, narrowed)}
          </Opened>
        ) : null}
      </td>
      <td data-label={`Found, ${words.unit}`}>
        <Blank /> <span className="unit">{words.unit}</span>
      </td>
    </tr>
  )
}

type Halves = { readonly waste: number | null; readonly motorLoss: number | null }
const change = (from: number | null, to: number | null) =>
  from === null || to === null ? 'no data' : `${plusMinus(from)} → ${plusMinus(to)}`

/** An interval that stays wider than this share of itself is not narrowed. */
const NARROWER = 0.98

function narrowingText(now: Halves, then: Halves): string {
  const isNarrower = (key: keyof Halves) => {
    const [from, to] = [now[key], then[key]]
    return from !== null && to !== null && to < NARROWER * from && plusMinus(to) !== plusMinus(from)
  }
  const said = [
    ...(isNarrower('waste') ? [`waste ${change(now.waste, then.waste)}`] : []),
    ...(isNarrower('motorLoss') ? [`motor loss ${change(now.motorLoss, then.motorLoss)} of input`] : []),
  ]
  return said.length ? said.join('; ') : 'narrows nothing with these sensors'
}
