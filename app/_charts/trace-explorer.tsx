'use client'
import { type ReactNode, useCallback, useEffect, useMemo, useRef, useState } from 'react'
import { elapsed } from '@/app/_ui/format'
import { Legend } from '@/app/_ui/legend'
import { DESTINATIONS, PHASES } from '@/app/_ui/streams'
import type { Phase, PhaseKind, Stream } from '@/lib/contract/result'
import { PHASE_KINDS } from '@/lib/contract/result'
import type { ZoomWindow } from './chart'
import { fetchEnvelopes } from './fetch-envelopes'
import type { Ink } from './ink'
import { LazyChart } from './lazy-chart'
import { RIBBON, type Span } from './phase-ribbon'
import { type Envelope, mergeEnvelopes, type TraceChannel } from './samples'
import { type TracePanel, traceHeight, traceOption } from './trace-option'
import { TraceTwin } from './trace-twin'

const MS = 1e3
const POINTS = 1200
const SETTLE_MS = 250

export interface TraceExplorerProps {
  readonly logId: string
  readonly panels: readonly TracePanel[]
  readonly streams: readonly Stream[]
  /** Why none are drawn; null where they are. */
  readonly withoutAccount: ReactNode
  readonly phases: readonly Phase[]
  /** What a person corrected, to be marked in the ribbon. */
  readonly corrected: readonly Span[]
  readonly picked: Span | null
  /** A phase was clicked in the ribbon. */
  readonly onPick: (phase: Phase) => void
  /** A stretch to be shown; a new one moves the window. */
  readonly focus: Span | null
  readonly onShown: (shown: Span) => void
  /** Changes with the figures: the account is fetched again. */
  readonly revision: string
  readonly durationS: number
  readonly sampleIntervalS: number
  readonly clockMs: number
  readonly clockName: string
}

/** Traces, phases and account on one time axis; zooming in fetches down to single samples. */
export function TraceExplorer(props: TraceExplorerProps) {
  const { logId, panels: all, streams, phases, durationS, sampleIntervalS, clockMs, clockName } = props
  const { corrected, picked, onPick, focus, onShown, revision, withoutAccount } = props
  const [extra, setExtra] = useState<readonly string[]>([])
  const panels = useMemo(
    () => all.filter((panel) => panel.isUsual || extra.includes(panel.title)),
    [all, extra],
  )
  const channels = useMemo<TraceChannel[]>(
    () => [
      ...panels.flatMap((panel) => panel.channels),
      ...streams.map((stream) => ({
        name: `stream:${stream}`,
        label: DESTINATIONS[stream].label,
        unit: 'kW' as const,
      })),
    ],
    [panels, streams],
  )
  const [whole, setWhole] = useState<ReadonlyMap<string, Envelope> | null>(null)
  const [detail, setDetail] = useState<ReadonlyMap<string, Envelope> | null>(null)
  const [shown, setShown] = useState({ from: 0, to: durationS })
  const [zoom, setZoom] = useState<ZoomWindow | undefined>()
  const [failure, setFailure] = useState<string | null>(null)
  const [touch, setTouch] = useState(false)
  const settle = useRef<ReturnType<typeof setTimeout>>(undefined)

  useEffect(() => onShown({ startS: shown.from, endS: shown.to }), [onShown, shown])

  useEffect(() => setTouch(window.matchMedia('(pointer: coarse)').matches), [])

  // biome-ignore lint/correctness/useExhaustiveDependencies: another revision has another account
  useEffect(() => {
    const stop = new AbortController()
    fetchEnvelopes(logId, channels, { from: 0, to: durationS, points: POINTS }, stop.signal).then(
      setWhole,
      (error: Error) => stop.signal.aborted || setFailure(error.message),
    )
    return () => stop.abort()
  }, [logId, channels, durationS, revision])

  const isZoomed = shown.to - shown.from < durationS * 0.98
  // biome-ignore lint/correctness/useExhaustiveDependencies: another revision has another account
  useEffect(() => {
    if (!isZoomed) return setDetail(null)
    const stop = new AbortController()
    const { from, to } = shown
    fetchEnvelopes(logId, channels, { from, to, points: POINTS }, stop.signal).then(
      (fetched) => {
        setDetail(fetched)
        setFailure(null)
      },
      (error: Error) => stop.signal.aborted || setFailure(error.message),
    )
    return () => stop.abort()
  }, [logId, channels, shown, isZoomed, revision])

  const onZoom = useCallback(
    ({ from, to }: ZoomWindow) => {
      clearTimeout(settle.current)
      settle.current = setTimeout(
        () => setShown({ from: (from - clockMs) / MS, to: (to - clockMs) / MS }),
        SETTLE_MS,
      )
    },
    [clockMs],
  )
  const show = useCallback(
    (from: number, to: number) => {
      const span = Math.min(durationS, Math.max(sampleIntervalS * 8, to - from))
      const start = Math.min(Math.max(0, from), durationS - span)
      setZoom({ from: clockMs + start * MS, to: clockMs + (start + span) * MS })
      setShown({ from: start, to: start + span })
    },
    [durationS, sampleIntervalS, clockMs],
  )
  useEffect(() => {
    if (!focus) return
    const around = focus.endS - focus.startS
    show(focus.startS - around, focus.endS + around)
  }, [focus, show])
  const pick = useCallback(
    (seriesName: string, index: number) => {
      if (seriesName === RIBBON && phases[index]) onPick(phases[index])
    },
    [phases, onPick],
  )

  const envelopes = useMemo(
    () => (whole && detail ? mergeEnvelopes(whole, detail, shown) : whole),
    [whole, detail, shown],
  )
  const build = useCallback(
    (ink: Ink) =>
      traceOption(
        {
          ...{ panels, streams, envelopes: envelopes ?? new Map(), phases, corrected, picked },
          ...{ durationS, clockMs, touch, shown },
        },
        ink,
      ),
    [panels, streams, envelopes, phases, corrected, picked, durationS, clockMs, touch, shown],
  )
  const kinds = useMemo(() => {
    const present = new Set<PhaseKind>(phases.map((phase) => phase.kind))
    return PHASE_KINDS.filter((kind) => present.has(kind))
  }, [phases])

  const span = shown.to - shown.from
  return (
    <div>
      <Legend label="Phases" entries={kinds.map((kind) => PHASES[kind])} />
      <div className="tools">
        <fieldset className="actions" style={{ border: 0, margin: 0, padding: 0 }}>
          <legend className="sr">Time shown</legend>
          <button type="button" onClick={() => show(shown.from + span / 4, shown.to - span / 4)}>
            Zoom in
          </button>
          <button
            type="button"
            onClick={() => show(shown.from - span / 2, shown.to + span / 2)}
            disabled={!isZoomed}
          >
            Zoom out
          </button>
          <button
            type="button"
            onClick={() => show(shown.from - span / 2, shown.to - span / 2)}
            disabled={!isZoomed}
          >
            <span aria-hidden="true">◀</span> Earlier
          </button>
          <button
            type="button"
            onClick={() => show(shown.from + span / 2, shown.to + span / 2)}
            disabled={!isZoomed}
          >
            Later <span aria-hidden="true">▶</span>
          </button>
          <button type="button" onClick={() => show(0, durationS)} disabled={!isZoomed}>
            Whole log
          </button>
        </fieldset>
        {all
          .filter((panel) => !panel.isUsual)
          .map(({ title }) => (
            <label key={title}>
              <input
                type="checkbox"
                checked={extra.includes(title)}
                onChange={(event) =>
                  setExtra((now) =>
                    event.target.checked ? [...now, title] : now.filter((other) => other !== title),
                  )
                }
              />{' '}
              {title}
            </label>
          ))}
        <span className="soft small">
          {elapsed(shown.from)} to {elapsed(shown.to)} from the first sample. Axis: {clockName}.{' '}
          {touch ? 'Move the bar beneath to zoom.' : 'Drag to move, Shift and wheel to zoom.'} A phase that is
          chosen in the ribbon can be corrected.
        </span>
      </div>
      {failure ? (
        <p className="error" role="alert">
          The samples could not be loaded: {failure}
        </p>
      ) : null}
      {envelopes ? (
        <LazyChart
          key={`${panels.length} ${streams.length}`}
          build={build}
          height={traceHeight(panels.length, streams.length > 0)}
          label="Traces, phases and account over time; the table beneath holds the values shown"
          zoom={zoom}
          onZoom={onZoom}
          onPick={pick}
        />
      ) : failure ? null : (
        <div className="chart-wait" style={{ height: traceHeight(panels.length, streams.length > 0) }}>
          Loading samples …
        </div>
      )}
      {withoutAccount ?? (
        <Legend label="Account, from the bottom up" entries={streams.map((stream) => DESTINATIONS[stream])} />
      )}
      {envelopes ? (
        <TraceTwin channels={channels} envelopes={envelopes} shown={shown} phases={phases} />
      ) : null}
    </div>
  )
}
