'use client'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import type { Inspection } from '@/app/_server/inspection-shapes'
import type { Reading } from '@/lib/contract/reading'
import { authHeaders, problemOf, send } from '../api'
import { columnsFault, emptyDraft, type FileAnswers, type LayoutDraft, readingOf } from '../upload/answers'
import { ColumnsSection } from '../upload/columns-section'
import { Questions } from '../upload/questions'

const POLL_MS = 700
const TYPE = { 'content-type': 'application/json' }

type Stage = 'closed' | 'looking' | 'open' | 'reading'

/** The file read so that all is asked that it leaves open; the columns stand as they were said. */
async function inspect(logId: string, { channels }: Reading): Promise<Inspection> {
  const body = JSON.stringify(channels ? { channels } : {})
  const headers = { ...authHeaders(), ...TYPE }
  const response = await fetch(`/api/logs/${logId}/inspections`, { method: 'POST', headers, body })
  if (!response.ok) throw new Error(await problemOf(response))
  return (await response.json()) as Inspection
}

interface State {
  readonly computedAt?: string
  readonly error?: { readonly title: string; readonly detail: string }
}

async function stateOf(logId: string): Promise<State> {
  const response = await fetch(`/api/logs/${logId}`, { cache: 'no-store', headers: authHeaders() })
  if (!response.ok) throw new Error(await problemOf(response))
  return (await response.json()) as State
}

/** Waits until the figures are of the new reading. @throws Error in words where the file cannot be read so */
async function settled(logId: string, before: State): Promise<void> {
  for (;;) {
    await new Promise((resolve) => setTimeout(resolve, POLL_MS))
    const { computedAt, error } = await stateOf(logId)
    if (error) throw new Error(`${error.title}: ${error.detail} The earlier figures stay.`)
    if (computedAt !== before.computedAt) return
  }
}

const draftOf = (machineId: string, inspection: Inspection, said: Reading): LayoutDraft => {
  const { dayOrder, decimalMark, timeUnit, timeZone } = said
  return {
    ...emptyDraft(machineId, inspection.layout),
    ...{ dayOrder, decimalMark, timeUnit, timeZone },
    columnsRight: true,
  }
}

/** Says anew how a stored log's files are to be read; what is stored stays until the new figures take its place. */
export function ReadAgain({
  machineId,
  logId,
  reading,
  timeZone,
  receivedAt,
}: {
  machineId: string
  logId: string
  reading: Reading
  timeZone: string
  receivedAt: string
}) {
  const router = useRouter()
  const [stage, setStage] = useState<Stage>('closed')
  const [inspection, setInspection] = useState<Inspection | null>(null)
  const [draft, setDraft] = useState<LayoutDraft | null>(null)
  const [answers, setAnswers] = useState<FileAnswers>({})
  const [failure, setFailure] = useState<string | null>(null)
  const [isDone, setDone] = useState(false)

  async function guarded(work: () => Promise<void>, otherwise: Stage) {
    setFailure(null)
    try {
      await work()
    } catch (error) {
      setFailure(error instanceof Error ? error.message : String(error))
      setStage(otherwise)
    }
  }
  const look = () =>
    guarded(async () => {
      setStage('looking')
      setDone(false)
      const found = await inspect(logId, reading)
      const { startedAt, clockShifts } = reading
      setInspection(found)
      setDraft(draftOf(machineId, found, reading))
      setAnswers({
        ...(startedAt === undefined ? {} : { startedAt }),
        ...(clockShifts ? { clockShifts } : {}),
      })
      setStage('open')
    }, 'closed')
  const read = (next: Reading) =>
    guarded(async () => {
      setStage('reading')
      const before = await stateOf(logId)
      await send('PUT', `/api/logs/${logId}/reading`, next)
      await settled(logId, before)
      setDone(true)
      setStage('closed')
      router.refresh()
    }, 'open')

  const { channels } = reading
  const said: Reading = {
    ...(channels ? { channels } : {}),
    ...readingOf(draft ?? undefined),
    ...(answers.startedAt === undefined ? {} : { startedAt: answers.startedAt }),
    ...(answers.clockShifts ? { clockShifts: { ...answers.clockShifts } } : {}),
  }
  const isSame = JSON.stringify(said) === JSON.stringify(reading)
  const isFaulty = columnsFault(draft?.columns ?? null) !== null
  return (
    <section className="sheet" aria-labelledby="again">
      <h2 id="again">Read again</h2>
      <p className="soft">
        With other answers or other columns, from the file as it is kept. The figures of today stay until the
        new ones are there.
      </p>
      {failure ? (
        <div className="note bad" role="alert">
          {failure}
        </div>
      ) : null}
      {isDone ? <p role="status">Read again; the figures are those of the new reading.</p> : null}
      {stage === 'closed' ? (
        <button type="button" onClick={look}>
          See what can be answered otherwise
        </button>
      ) : null}
      {stage === 'looking' ? <p role="status">The file is being looked at …</p> : null}
      {stage === 'reading' ? (
        <p role="status">Being read again; the earlier figures stay until it is done …</p>
      ) : null}
      {stage === 'open' && inspection && draft ? (
        <>
          {inspection.questions.some(({ id }) => id !== 'columns') ? null : (
            <p>The file leaves nothing open but what its columns are.</p>
          )}
          <Questions
            inspection={inspection}
            draft={draft}
            answers={answers}
            open={[]}
            lastModifiedMs={Date.parse(receivedAt)}
            siteZone={timeZone}
            asks={() => true}
            wasAsked={false}
            onSay={(part) => setDraft({ ...draft, ...part })}
            onAnswer={(part) => setAnswers({ ...answers, ...part })}
          />
          <ColumnsSection
            columns={inspection.columns}
            draft={draft}
            question={undefined}
            isRefused={false}
            isReadSo={false}
            isMissing={false}
            onSay={(part) => setDraft({ ...draft, ...part })}
          />
          <div className="actions">
            <button type="button" className="main" disabled={isSame || isFaulty} onClick={() => read(said)}>
              Read again with these answers
            </button>
            {Object.keys(reading).length > 0 ? (
              <button type="button" onClick={() => read({})}>
                Read as the file and the set-up say
              </button>
            ) : null}
            <button type="button" className="plain" onClick={() => setStage('closed')}>
              Leave it as it is
            </button>
          </div>
        </>
      ) : null}
    </section>
  )
}
