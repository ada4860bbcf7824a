'use client'
import Link from 'next/link'
import type { WasteKind } from '@/lib/months/waste'
import { count, dateOnly, duration } from '../format'
import { LogsNotThere, useMonthLogs } from './month-logs'

/** The logs of a machine as numbers, each a link. */
export function LogLinks({ machineId, name }: { machineId: string; name: string }) {
  const state = useMonthLogs()
  if (!state) return <span className="soft">…</span>
  if ('why' in state) return <span className="nodata">{state.why}</span>
  return state.machines.get(machineId)?.logs.map((log, nth) => (
    <span key={log.logId}>
      {nth > 0 ? ' ' : ''}
      <Link href={`/machines/${machineId}?log=${log.logId}`} aria-label={`Log ${nth + 1} of ${name}`}>
        {nth + 1}
      </Link>
    </span>
  ))
}

/** The logs that a figure of a machine stands on. */
export function SourceLogs({
  machineId,
  timeZone,
  kind,
}: {
  machineId: string
  timeZone: string
  kind: WasteKind
}) {
  const state = useMonthLogs()
  // Where the log's own page opens it.
  const place = kind === 'idle' ? 'phases' : 'account'
  return (
    <>
      <h3>Source logs</h3>
      {!state || 'why' in state ? (
        <LogsNotThere state={state} />
      ) : (
        <ul>
          {state.machines.get(machineId)?.logs.map((log) => (
            <li key={log.logId}>
              <Link href={`/machines/${machineId}?log=${log.logId}#${place}`}>{log.fileName}</Link>{' '}
              <span className="soft">
                {dateOnly(log.startedAt, timeZone)}, {duration(log.durationS)}
                {log.problemCount
                  ? `, ${log.problemCount === 1 ? 'one thing' : `${count(log.problemCount)} things`} to look at`
                  : ''}
              </span>
            </li>
          ))}
        </ul>
      )}
    </>
  )
}

/** The files that a figure of many machines stands on. */
export function SourceFiles({ machineIds }: { machineIds: readonly string[] }) {
  const state = useMonthLogs()
  if (!state || 'why' in state) return <LogsNotThere state={state} />
  return machineIds.flatMap((id) => {
    const machine = state.machines.get(id)
    return (machine?.logs ?? []).map((log) => (
      <span key={log.logId} className="line">
        <Link href={`/machines/${id}?log=${log.logId}`}>
          {machine?.name}: {log.fileName}
        </Link>
      </span>
    ))
  })
}
