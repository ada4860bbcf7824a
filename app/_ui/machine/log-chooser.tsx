'use client'
import { useRouter } from 'next/navigation'
import type { LogChoice } from '@/app/_server/views/machine-view'
import { dateTime, duration } from '../format'

/** Chooses which of a machine's logs is shown; the choice is in the address. */
export function LogChooser({
  machineId,
  logs,
  chosen,
  timeZone,
}: {
  machineId: string
  logs: readonly LogChoice[]
  chosen: string | null
  timeZone: string
}) {
  const router = useRouter()
  if (!logs.length) return null
  return (
    <label>
      Log{' '}
      <select
        value={chosen ?? ''}
        onChange={(event) => router.push(`/machines/${machineId}?log=${event.target.value}`)}
      >
        {logs.map((log) => (
          <option key={log.id} value={log.id}>
            {dateTime(log.startedAt, timeZone)}
            {log.durationS === null ? '' : `, ${duration(log.durationS)}`} · {log.fileName}
            {log.state === 'done' ? '' : ` · ${log.state}`}
          </option>
        ))}
      </select>
    </label>
  )
}
