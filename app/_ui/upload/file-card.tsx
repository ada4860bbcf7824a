'use client'
import Link from 'next/link'
import { useEffect, useRef } from 'react'
import { bytes, count, dateOnly, dateTime, duration, percent } from '../format'
import { hasSaid, isReadSo, type LayoutDraft } from './answers'
import { ColumnsSection } from './columns-section'
import { Doubts, InspectionView, remarksOf } from './inspection-view'
import { askerOf } from './peers'
import { Questions } from './questions'
import { RememberChoice } from './remember-choice'
import {
  canImport,
  filesOf,
  isBusy,
  nameOf,
  SERVER_STATES,
  STAGE_WORDS,
  type Upload,
  type Uploads,
} from './upload-state'
import {
  answer,
  cancel,
  draftOf,
  importOne,
  inspect,
  openOf,
  remove,
  rereadStored,
  say,
  takeApart,
  undo,
  unsay,
} from './upload-store'

/** A percentage that no line's end parts from its sign. */
const share = (value: number): string => percent(value).replace(' ', '\u00a0')

function status({ stage, state, progress, isCut }: Upload, openCount: number): string {
  if (isCut)
    return progress === null || stage === 'working'
      ? 'Waiting for the connection; goes on by itself'
      : `Waiting for the connection, ${share(progress)} is there; goes on by itself`
  // What has a share of it sent is on its way; what is whole there is being read.
  if (stage === 'inspecting' && progress !== null)
    return `On its way to be read; nothing is stored yet, ${share(progress)}`
  if (stage === 'inspected' && openCount > 0)
    return openCount === 1
      ? 'One question before it can be imported'
      : `${openCount} questions before it can be imported`
  const detail = stage === 'working' && state ? `: ${SERVER_STATES[state] ?? state}` : ''
  return `${STAGE_WORDS[stage]}${detail}${progress === null || !isBusy(stage) ? '' : `, ${share(progress)}`}`
}

/** When the recording began, as far as that is settled. */
function startText(
  { inspection, answers }: Upload,
  draft: LayoutDraft | undefined,
  timeZone: string,
): string {
  const order = inspection?.questions.find(({ id }) => id === 'dayOrder')
  if (order) {
    const chosen = order.choices.find(({ value }) => value === draft?.dayOrder)
    return chosen?.reading ? dateOnly(`${chosen.reading}T12:00:00Z`, 'UTC') : 'Date open'
  }
  if (inspection?.startedAt) return dateTime(inspection.startedAt, timeZone)
  return answers.startedAt ? answers.startedAt.replace('T', ', ') : 'No date'
}

/** One file: what it is, how far it is, what it leaves open and what can be done. */
export function FileCard({
  upload,
  all,
  machineName,
  timeZone,
  isAlone,
}: {
  upload: Upload
  all: Uploads
  /** The machine it belongs to, where that is not the one chosen above. */
  machineName: string | null
  timeZone: string
  isAlone: boolean
}) {
  const { key, stage, progress, wentOnFrom, inspection, survey, failure, logId, machineId, file, tries } =
    upload
  const name = nameOf(upload)
  const card = useRef<HTMLElement>(null)
  const draft = draftOf(all, upload)
  const leader = askerOf(all.uploads, upload, 'columns')
  const isLeader = leader.key === upload.key
  const open = openOf(all, upload)
  const elsewhere = open.find((id) => id !== 'overlap' && askerOf(all.uploads, upload, id).key !== key)
  const asker = elsewhere && elsewhere !== 'overlap' ? askerOf(all.uploads, upload, elsewhere) : null
  const shown = inspection !== null && canImport(stage)
  const onSay = (part: Partial<LayoutDraft>) => survey && say(machineId, survey.layout, part)
  const isAhead = hasSaid(draft) && !isReadSo(survey?.reading?.reading, draft)
  const setup = `/machines/${encodeURIComponent(machineId)}/setup`
  const columnsQuestion = inspection?.questions.find(({ id }) => id === 'columns')
  const remembered = inspection?.reading?.remembered ?? null
  useEffect(() => {
    // Whoever pressed Import is brought to what it waits for.
    if (tries > 0)
      card.current?.querySelector<HTMLElement>('.question[data-open] :is(input, select)')?.focus()
  }, [tries])
  return (
    <section className="file" aria-label={name} data-stage={stage} data-open={open.length} ref={card}>
      <header>
        <h3>
          {name}{' '}
          <span className="soft small">
            {bytes(filesOf(upload).reduce((sum, { size }) => sum + size, 0))}
          </span>
          {machineName ? <span className="soft small"> for {machineName}</span> : null}
        </h3>
        <span className="status">{status(upload, open.length)}</span>
      </header>
      {isBusy(stage) ? (
        <progress aria-label={`${name}: ${STAGE_WORDS[stage]}`} value={progress ?? undefined} max={1} />
      ) : null}
      {wentOnFrom !== null && isBusy(stage) && stage !== 'working' ? (
        <p className="soft">Went on where it stopped: {share(wentOnFrom)} was there already.</p>
      ) : null}
      {failure ? (
        <div className="note bad" role="alert" style={{ whiteSpace: 'pre-line' }}>
          {failure}
        </div>
      ) : null}
      {stage === 'refused' && survey ? (
        <p className="soft">
          Is this the machine that was logged? Choose another above, or{' '}
          <Link href={setup}>correct the sensors of this one</Link>, or say below what the columns hold.
        </p>
      ) : null}
      {stage === 'refused' && survey && isLeader ? (
        <ColumnsSection
          columns={survey.columns}
          draft={draft}
          question={undefined}
          isRefused
          isReadSo={false}
          isMissing={false}
          onSay={onSay}
        />
      ) : null}
      {stage === 'refused' && survey && !isLeader ? (
        <p className="soft">Of the same layout as {leader.file.name}: say there what the columns hold.</p>
      ) : null}
      {shown && inspection ? (
        <>
          <p className="summary">
            {startText(upload, draft, timeZone)} · {duration(inspection.durationS)} ·{' '}
            {count(inspection.report.rowsUsed)} rows ·{' '}
            {inspection.report.channels.length === 1
              ? '1 channel'
              : `${inspection.report.channels.length} channels`}
            {remarksOf(inspection).length ? ` · ${remarksOf(inspection).length} to look at` : ''}
          </p>
          {inspection.sameAs ? (
            <div className="note">
              <p>
                This recording is already stored for this machine. Importing it again changes nothing.{' '}
                <Link href={`/machines/${machineId}?log=${inspection.sameAs}`}>See its result</Link>
              </p>
              {hasSaid(draft) || upload.answers.startedAt ? (
                <p>
                  <button type="button" onClick={() => rereadStored(upload, inspection.sameAs ?? '')}>
                    Read the stored one again with these answers
                  </button>
                </p>
              ) : null}
            </div>
          ) : null}
          {remembered ? (
            <p className="remembered">
              Understood as on {dateOnly(remembered.at, timeZone)}
              {remembered.by ? ` by ${remembered.by}` : ''}.{' '}
              <span className="soft">
                Change it under “Columns”, or <Link href={`${setup}#layouts`}>forget it in the set-up</Link>.
              </span>
            </p>
          ) : null}
          {isAlone ? null : <Doubts inspection={inspection} />}
          <Questions
            inspection={inspection}
            draft={draft}
            answers={upload.answers}
            open={open}
            lastModifiedMs={file.lastModified}
            siteZone={timeZone}
            asks={(id) => askerOf(all.uploads, upload, id).key === key}
            wasAsked={tries > 0}
            onSay={onSay}
            onAnswer={(part) => answer(upload, part)}
          />
          {isLeader ? (
            <ColumnsSection
              columns={inspection.columns}
              draft={draft}
              question={columnsQuestion}
              isRefused={false}
              isReadSo={!isAhead}
              isMissing={tries > 0 && open.includes('columns')}
              onSay={onSay}
            />
          ) : (
            <p className="soft">
              {asker
                ? `Of the same layout as ${asker.file.name}: what is answered there counts here too.`
                : `Of the same layout as ${leader.file.name}, and read as it is.`}
            </p>
          )}
          {isLeader && draft && hasSaid(draft) ? <RememberChoice draft={draft} onSay={onSay} /> : null}
          <details className="twin" open={isAlone}>
            <summary>What was understood{isAhead ? ', before these answers' : ''}</summary>
            <InspectionView inspection={inspection} timeZone={timeZone} />
          </details>
        </>
      ) : null}
      <div className="actions">
        {canImport(stage) ? (
          <button type="button" className="main" onClick={() => importOne(upload)}>
            {stage === 'failed' ? 'Try again' : 'Import'}
          </button>
        ) : null}
        {stage === 'refused' || (canImport(stage) && (isAhead || stage === 'failed')) ? (
          <button
            type="button"
            className={stage === 'refused' && hasSaid(draft) ? 'main' : undefined}
            onClick={() => inspect(upload)}
          >
            {hasSaid(draft) ? 'Read again with these answers' : 'Read again'}
          </button>
        ) : null}
        {isLeader && survey && hasSaid(draft) && (shown || stage === 'refused') ? (
          <button type="button" className="plain" onClick={() => unsay(machineId, survey.layout)}>
            Take the answers back
          </button>
        ) : null}
        {isBusy(stage) ? (
          <button type="button" onClick={() => void cancel(upload)}>
            Cancel
          </button>
        ) : null}
        {(stage === 'done' || stage === 'duplicate') && logId ? (
          <>
            <Link className="button main" href={`/machines/${machineId}?log=${logId}`}>
              See the result
            </Link>
            <Link className="button" href={`/machines/${machineId}/logs/${logId}`}>
              Import report
            </Link>
          </>
        ) : null}
        {stage === 'done' ? (
          <button type="button" onClick={() => void undo(upload)}>
            Undo the import
          </button>
        ) : null}
        {upload.further.length > 0 && (shown || stage === 'refused') ? (
          <button type="button" onClick={() => takeApart(upload)}>
            Take apart again
          </button>
        ) : null}
        {isBusy(stage) ? null : (
          <button
            type="button"
            className="plain"
            aria-label={`Take ${name} off this list`}
            onClick={() => remove(upload)}
          >
            Take off this list
          </button>
        )}
      </div>
    </section>
  )
}
