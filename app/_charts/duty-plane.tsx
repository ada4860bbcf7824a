'use client'
import { useCallback, useEffect, useMemo, useState } from 'react'
import { number } from '@/app/_ui/format'
import { Legend } from '@/app/_ui/legend'
import { Scroll } from '@/app/_ui/scroll'
import { PHASES } from '@/app/_ui/streams'
import { PHASE_KINDS, type Phase, type PhaseKind } from '@/lib/contract/result'
import { type DutyPoint, dutyOption, type ReliefLine } from './duty-option'
import { dutyPoints } from './duty-points'
import { fetchEnvelopes } from './fetch-envelopes'
import type { Ink } from './ink'
import { LazyChart } from './lazy-chart'
import { type Envelope, summarise } from './samples'

const POINTS = 3000
const OVER_RELIEF = 'stream:overRelief'
const FLOW_TITLE = 'Flow over the relief'

export interface DutyPlaneProps {
  readonly logId: string
  readonly pressure: string
  readonly phases: readonly Phase[]
  readonly durationS: number
  readonly relief: ReliefLine | null
}

/** The duty of the pump in the pressure–flow plane; each dot is the mean of an equal stretch of the log. */
export function DutyPlane({ logId, pressure, phases, durationS, relief }: DutyPlaneProps) {
  const [envelopes, setEnvelopes] = useState<ReadonlyMap<string, Envelope> | null>(null)
  const [failure, setFailure] = useState<string | null>(null)
  useEffect(() => {
    const stop = new AbortController()
    const channels = [
      { name: pressure, label: 'Pump pressure', unit: 'bar' },
      { name: OVER_RELIEF, label: FLOW_TITLE, unit: 'W' },
    ]
    fetchEnvelopes(logId, channels, { from: 0, to: durationS, points: POINTS }, stop.signal).then(
      setEnvelopes,
      (error: Error) => stop.signal.aborted || setFailure(error.message),
    )
    return () => stop.abort()
  }, [logId, pressure, durationS])

  const points = useMemo(() => {
    const p = envelopes?.get(pressure)
    const w = envelopes?.get(OVER_RELIEF)
    return p && w ? dutyPoints(p, w, phases) : []
  }, [envelopes, pressure, phases])
  const build = useCallback(
    (ink: Ink) => dutyOption({ points, flowTitle: FLOW_TITLE, relief }, ink),
    [points, relief],
  )
  const kinds = PHASE_KINDS.filter((kind) => points.some((point) => point.kind === kind))

  if (failure) return <p className="error">The samples could not be loaded: {failure}</p>
  if (!envelopes) {
    return (
      <div className="chart-wait" style={{ height: 320 }}>
        Loading samples …
      </div>
    )
  }
  return (
    <div>
      <Legend label="Phases and lines" entries={kinds.map((kind) => PHASES[kind])}>
        {relief ? (
          <li>
            <span aria-hidden="true">━ </span>Relief as fitted: pressure against flow over the relief
          </li>
        ) : null}
      </Legend>
      <LazyChart build={build} height={320} label={`${FLOW_TITLE} against pump pressure; table beneath`} />
      <p className="small soft">
        Each dot is the mean of {number(durationS / POINTS)} s or one sample, whichever is longer.
      </p>
      <details className="twin">
        <summary>As a table</summary>
        <DutyTable points={points} />
      </details>
    </div>
  )
}

function DutyTable({ points }: { points: readonly DutyPoint[] }) {
  const line = (kind: PhaseKind) => {
    const own = points.filter((point) => point.kind === kind)
    const series = (of: (point: DutyPoint) => number): Envelope => {
      const values = own.map(of)
      return { timeS: own.map((_, index) => index), min: values, max: values, mean: values }
    }
    return {
      kind,
      flow: summarise(
        series((point) => point.flowLpm),
        0,
        own.length,
      ),
      pressure: summarise(
        series((point) => point.pressureBar),
        0,
        own.length,
      ),
      share: own.length / Math.max(1, points.length),
    }
  }
  const rows = PHASE_KINDS.map(line).filter((row) => row.flow && row.pressure)
  return (
    <Scroll label="Duty by phase">
      <table>
        <caption>Duty by phase: mean, lowest and highest</caption>
        <thead>
          <tr>
            <th scope="col">Phase</th>
            <th scope="col" className="num">
              Time <span className="unit">%</span>
            </th>
            <th scope="col" className="num">
              Pump pressure <span className="unit">bar</span>
            </th>
            <th scope="col" className="num">
              {FLOW_TITLE} <span className="unit">L/min</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.kind}>
              <th scope="row">{PHASES[row.kind].label}</th>
              <td className="num">{number(row.share * 100)}</td>
              <td className="num">
                {number(row.pressure?.mean)}{' '}
                <span className="pm">
                  ({number(row.pressure?.min)} to {number(row.pressure?.max)})
                </span>
              </td>
              <td className="num">
                {number(row.flow?.mean)}{' '}
                <span className="pm">
                  ({number(row.flow?.min)} to {number(row.flow?.max)})
                </span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  )
}
