import Link from 'next/link'
import type { LogChoice } from '@/app/_server/views/machine-view'
import { percent } from '../format'
import { SERVER_STATES } from '../upload/upload-state'
import { Refresher } from './refresher'

/** In place of a result: nothing logged, still being imported, or failed and why. */
export function NoResult({ machineId, chosen }: { machineId: string; chosen: LogChoice | null }) {
  if (!chosen) {
    return (
      <div className="sheet empty">
        <h2>No log yet</h2>
        <p>
          <Link href={`/upload?machine=${machineId}`}>Upload the first</Link>: pump pressure, a flow and the
          motor’s current or power over at least one shift. What to fit where, and for how long, is in its{' '}
          <Link href={`/machines/${encodeURIComponent(machineId)}/logging-plan`}>logging plan</Link>.
        </p>
      </div>
    )
  }
  if (chosen.state === 'failed') {
    return (
      <div className="sheet">
        <h2>{chosen.fileName} was not imported</h2>
        <div className="note bad">
          <p>{chosen.failure ?? 'No reason was given.'}</p>
        </div>
        <p>
          Nothing of it is stored. <Link href={`/upload?machine=${machineId}`}>Upload it again</Link> once the
          cause is gone.
        </p>
      </div>
    )
  }
  if (chosen.state === 'done' && chosen.failure) {
    return (
      <div className="sheet">
        <h2>{chosen.fileName} could not be analysed again</h2>
        <div className="note bad">
          <p>{chosen.failure}</p>
        </div>
        <p>
          Its figures were made by an earlier version of Tankward and cannot be shown. Its samples are stored:{' '}
          <Link href={`/machines/${machineId}/logs/${chosen.id}`}>read the file again</Link>, or mend the{' '}
          <Link href={`/machines/${machineId}/setup`}>set-up</Link>.
        </p>
      </div>
    )
  }
  if (chosen.state === 'done') {
    return (
      <div className="sheet empty" role="status">
        <Refresher />
        <h2>{chosen.fileName} is being analysed again</h2>
        <p>
          Its figures were made by an earlier version of Tankward. They are back once it has been read anew.
        </p>
      </div>
    )
  }
  return (
    <div className="sheet empty" role="status">
      <Refresher />
      <h2>{chosen.fileName} is being imported</h2>
      <p>
        {SERVER_STATES[chosen.state] ?? chosen.state}, {percent(chosen.progress)}
      </p>
      <progress
        aria-label="Progress of the import"
        value={chosen.progress}
        max={1}
        style={{ maxWidth: '24rem' }}
      />
    </div>
  )
}
