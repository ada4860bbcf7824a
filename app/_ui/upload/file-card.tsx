'use client'
import Link from 'next/link'
import { bytes, percent } from '../format'
import { InspectionView } from './inspection-view'
import { canImport, isBusy, SERVER_STATES, STAGE_WORDS, type Upload } from './upload-state'
import type { useUploads } from './use-uploads'

/** One file: what it is, how far it is, and what can be done. */
export function FileCard({
  upload,
  machineId,
  timeZone,
  actions,
}: {
  upload: Upload
  machineId: string
  timeZone: string
  actions: ReturnType<typeof useUploads>
}) {
  const { stage, progress, inspection, failure, logId } = upload
  const detail = stage === 'working' && upload.state ? (SERVER_STATES[upload.state] ?? upload.state) : null
  return (
    <section className="file" aria-label={upload.file.name} data-stage={stage}>
      <header>
        <h3>
          {upload.file.name} <span className="soft small">{bytes(upload.file.size)}</span>
        </h3>
        <span role="status">
          {STAGE_WORDS[stage]}
          {detail ? `: ${detail}` : ''}
          {progress === null || !isBusy(stage) ? '' : `, ${percent(progress)}`}
        </span>
      </header>
      {isBusy(stage) ? (
        <progress aria-label={STAGE_WORDS[stage]} value={progress ?? undefined} max={1} />
      ) : null}
      {failure ? (
        <div className="note bad" role="alert" style={{ whiteSpace: 'pre-line' }}>
          {failure}
        </div>
      ) : null}
      {stage === 'refused' ? (
        <p className="soft">
          Is this the machine that was logged? Choose another above, or{' '}
          <Link href={`/machines/${encodeURIComponent(machineId)}/setup`}>
            correct the sensors of this one
          </Link>
          .
        </p>
      ) : null}
      {inspection && (stage === 'inspected' || stage === 'failed') ? (
        <InspectionView inspection={inspection} timeZone={timeZone} />
      ) : null}
      <div className="actions">
        {canImport(stage) ? (
          <button type="button" className="main" onClick={() => actions.importOne(upload)}>
            {stage === 'failed' ? 'Try again' : 'Import'}
          </button>
        ) : null}
        {stage === 'refused' ? (
          <button type="button" onClick={() => actions.inspect(upload)}>
            Read again
          </button>
        ) : null}
        {isBusy(stage) ? (
          <button type="button" onClick={() => actions.cancel(upload)}>
            Cancel
          </button>
        ) : null}
        {(stage === 'done' || stage === 'duplicate') && logId ? (
          <Link className="button main" href={`/machines/${machineId}?log=${logId}`}>
            See the result
          </Link>
        ) : null}
        {stage === 'done' ? (
          <button type="button" onClick={() => actions.undo(upload)}>
            Undo the import
          </button>
        ) : null}
        {isBusy(stage) ? null : (
          <button type="button" className="plain" onClick={() => actions.remove(upload)}>
            Take off this list
          </button>
        )}
      </div>
    </section>
  )
}
