'use client'
import { useCallback, useEffect, useMemo, useState } from 'react'
import { number } from '@/app/_ui/format'
import { Scroll } from '@/app/_ui/scroll'
import type { Phase } from '@/lib/contract/result'
import { type OverlaidDuty, overlayOption, SHAPES } from './duty-overlay-option'
import { dutyPoints } from './duty-points'
import { fetchEnvelopes } from './fetch-envelopes'
import type { Ink } from './ink'
import { LazyChart } from './lazy-chart'

const POINTS = 1500
const HEIGHT = 360

/** Which flow is drawn: the account's power of a stream over the pump pressure. */
const FLOWS = [
  { stream: 'stream:intoSystem', title: 'Flow into the system' },
  { stream: 'stream:overRelief', title: 'Flow over the relief' },
] as const

export interface DutyMachine {
  readonly name: string
  readonly logId: string
  readonly pressure: string
  readonly phases: readonly Phase[]
  readonly durationS: number
}

/** The duty of several machines in one pressure–flow plane, told apart by shape and colour; table beneath. */
export function DutyOverlay({ machines }: { machines: readonly DutyMachine[] }) {
  const [flow, setFlow] = useState<(typeof FLOWS)[number]>(FLOWS[0])
  const [duties, setDuties] = useState<readonly OverlaidDuty[] | null>(null)
  const [failure, setFailure] = useState<string | null>(null)
  useEffect(() => {
    const stop = new AbortController()
    const load = async ({ name, logId, pressure, phases, durationS }: DutyMachine): Promise<OverlaidDuty> => {
      const channels = [
        { name: pressure, label: 'Pump pressure', unit: 'bar' },
        { name: flow.stream, label: flow.title, unit: 'W' },
      ]
      const envelopes = await fetchEnvelopes(
        logId,
        channels,
        { from: 0, to: durationS, points: POINTS },
        stop.signal,
      )
      const [p, w] = [envelopes.get(pressure), envelopes.get(flow.stream)]
      return { name, points: p && w ? dutyPoints(p, w, phases) : [] }
    }
    Promise.all(machines.map(load)).then(
      setDuties,
      (error: Error) => stop.signal.aborted || setFailure(error.message),
    )
    return () => stop.abort()
  }, [machines, flow])
  const build = useCallback((ink: Ink) => overlayOption(duties ?? [], flow.title, ink), [duties, flow])
  const rows = useMemo(() => (duties ?? []).map((duty) => summary(duty)), [duties])

  if (failure) return <p className="error">The samples could not be loaded: {failure}</p>
  return (
    <div>
      <div className="tools screen-only">
        <label>
          Drawn{' '}
          <select
            value={flow.stream}
            onChange={(event) => {
              setDuties(null)
              setFlow(FLOWS.find(({ stream }) => stream === event.target.value) ?? FLOWS[0])
            }}
          >
            {FLOWS.map(({ stream, title }) => (
              <option key={stream} value={stream}>
                {title}
              </option>
            ))}
          </select>
        </label>
      </div>
      {duties ? (
        <>
          <p>
            {rows
              .map(
                ({ name, pressure, flow: own }) =>
                  `${name}: half of its time below ${number(pressure?.[1])} bar and ${number(own?.[1])} L/min`,
              )
              .join('; ')}
            .
          </p>
          <ul className="legend" aria-label="Machines">
            {duties.map(({ name }, k) => (
              <li key={name}>
                <span aria-hidden="true" style={{ color: `var(${SHAPES[k].token})` }}>
                  {SHAPES[k].mark}{' '}
                </span>
                {name}
              </li>
            ))}
          </ul>
          <LazyChart
            build={build}
            height={HEIGHT}
            label={`${flow.title} against pump pressure of ${duties.map(({ name }) => name).join(', ')}; table beneath`}
          />
          <p className="small soft">
            Each mark is the mean of an equal stretch of its machine’s log, {number(POINTS)} stretches at
            most.
          </p>
          <details className="twin">
            <summary>As a table</summary>
            <DutyQuantiles rows={rows} flowTitle={flow.title} />
          </details>
        </>
      ) : (
        <div className="chart-wait" style={{ height: HEIGHT }}>
          Loading samples …
        </div>
      )}
    </div>
  )
}

const SHARES = [0.1, 0.5, 0.9]

interface DutySummary {
  readonly name: string
  readonly pressure: readonly number[] | null
  readonly flow: readonly number[] | null
}

/** Values below which a tenth, half and nine tenths of the marks lie. */
function summary({ name, points }: OverlaidDuty): DutySummary {
  const quantiles = (values: number[]) => {
    const sorted = values.sort((a, b) => a - b)
    return sorted.length ? SHARES.map((share) => sorted[Math.round(share * (sorted.length - 1))]) : null
  }
  return {
    name,
    pressure: quantiles(points.map(({ pressureBar }) => pressureBar)),
    flow: quantiles(points.map(({ flowLpm }) => flowLpm)),
  }
}

function DutyQuantiles({ rows, flowTitle }: { rows: readonly DutySummary[]; flowTitle: string }) {
  const cells = (name: string, values: readonly number[] | null) =>
    SHARES.map((share, k) => (
      <td key={`${name} ${share}`} className="num">
        {number(values?.[k])}
      </td>
    ))
  return (
    <Scroll label="Duty by machine">
      <table>
        <caption>
          Below these values the machine spends a tenth, half and nine tenths of its logged time
        </caption>
        <thead>
          <tr>
            <th scope="col" rowSpan={2}>
              Machine
            </th>
            <th scope="colgroup" colSpan={3} className="num">
              Pump pressure <span className="unit">bar</span>
            </th>
            <th scope="colgroup" colSpan={3} className="num">
              {flowTitle} <span className="unit">L/min</span>
            </th>
          </tr>
          <tr>
            {['pressure', 'flow'].flatMap((of) =>
              SHARES.map((share) => (
                <th key={`${of} ${share}`} scope="col" className="num">
                  {number(share * 100)} %
                </th>
              )),
            )}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ name, pressure, flow }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              {cells('pressure', pressure)}
              {cells('flow', flow)}
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  )
}
