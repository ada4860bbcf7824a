'use client'
import { useMemo } from 'react'
import type { Span } from '@/app/_charts/phase-ribbon'
import type { Column } from '@/app/_tables/column'
import { DataTable } from '@/app/_tables/data-table'
import { phaseClasses } from '@/app/_words/en/names'
import type { Phase, PhaseClass, PhaseKind } from '@/lib/contract/result'
import { elapsed, number } from '../format'
import { Key } from '../key'
import { PHASES } from '../streams'

type Row = Phase & { readonly index: number }

const CLASS_OF: Readonly<Record<PhaseKind, PhaseClass>> = {
  stopped: 'off',
  starting: 'off',
  'idle-unloaded': 'idle',
  'idle-loaded': 'idle',
  'work-moving': 'work',
  'work-metering': 'work',
  'work-holding': 'work',
}

const MS = 1e3
const MARKED = 'corrected'

function columnsOf(
  clockMs: number,
  onShow: (phase: Phase) => void,
  onCorrect: (phase: Phase) => void,
): readonly Column<Row>[] {
  const clock = new Intl.DateTimeFormat('en-GB', {
    day: '2-digit',
    month: 'short',
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
    timeZone: 'UTC',
  })
  const start: Column<Row> = {
    id: 'start',
    header: 'Begins',
    unit: 'h:mm:ss',
    help: 'From the first sample of the log',
    numeric: true,
    value: (row) => row.startS,
    cell: (row) => elapsed(row.startS),
  }
  const onClock: Column<Row> = {
    id: 'clock',
    header: 'On the site’s clock',
    numeric: true,
    value: (row) => row.startS,
    cell: (row) => clock.format(clockMs + row.startS * MS),
  }
  return [
    start,
    {
      id: 'kind',
      header: 'Kind',
      choice: true,
      value: (row) => PHASES[row.kind].label,
      cell: (row) => (
        <>
          <Key token={PHASES[row.kind].token} />
          {PHASES[row.kind].label}
        </>
      ),
    },
    {
      id: 'do',
      header: 'Actions',
      value: () => null,
      cell: (row) => (
        <span className="row-actions">
          <button
            type="button"
            className="plain"
            aria-label={`Show the phase from ${elapsed(row.startS)}`}
            onClick={() => onShow(row)}
          >
            Show
          </button>
          <button
            type="button"
            className="plain"
            aria-label={`Correct the phase from ${elapsed(row.startS)}`}
            onClick={() => onCorrect(row)}
          >
            Correct
          </button>
        </span>
      ),
    },
    {
      id: 'length',
      header: 'Lasts',
      unit: 's',
      numeric: true,
      value: (row) => row.endS - row.startS,
      cell: (row) => number(row.endS - row.startS),
    },
    {
      id: 'mark',
      header: 'Mark',
      choice: true,
      value: (row) => (row.corrected ? MARKED : null),
      cell: (row) => (row.corrected ? <span className="tag good">{MARKED}</span> : null),
    },
    ...(clockMs === 0 ? [] : [onClock]),
    {
      id: 'class',
      header: 'Class',
      choice: true,
      hidden: true,
      value: (row) => phaseClasses[CLASS_OF[row.kind]],
      cell: (row) => phaseClasses[CLASS_OF[row.kind]],
    },
  ]
}

/** Every phase of a log as a row, however many; each can be shown in the traces and corrected. */
export function PhasesTable({
  phases,
  clockMs,
  onShow,
  onCorrect,
}: {
  phases: readonly Phase[]
  clockMs: number
  onShow: (stretch: Span) => void
  onCorrect: (phase: Phase) => void
}) {
  const columns = useMemo(() => columnsOf(clockMs, onShow, onCorrect), [clockMs, onShow, onCorrect])
  const rows = useMemo(() => phases.map((phase, index): Row => ({ ...phase, index })), [phases])
  return (
    <DataTable
      caption="Phases of this log"
      columns={columns}
      rows={rows}
      rowKey={(row) => String(row.index)}
    />
  )
}
