import type { Inspection, SurveyAnswer } from '@/app/_server/inspection-shapes'
import type { Reading } from '@/lib/contract/reading'
import { authHeaders, problemOf, problemText } from '../api'
import type { Sending } from './answers'

const POLL_MS = 400
const MOST_MISSED = 30
const LONGEST_NAME = 200

interface Answer {
  readonly status: number
  readonly body: string
}

/** Posts a file as it is, saying how much has left; fetch cannot tell that, so this is an XMLHttpRequest. */
function post(
  path: string,
  file: File,
  signal: AbortSignal,
  onProgress: (share: number | null) => void,
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest()
    request.open('POST', path)
    for (const [name, value] of Object.entries(authHeaders())) request.setRequestHeader(name, value)
    request.setRequestHeader('content-type', 'application/octet-stream')
    request.upload.onprogress = (event) =>
      onProgress(event.lengthComputable && event.total > 0 ? event.loaded / event.total : null)
    request.onload = () => resolve({ status: request.status, body: request.responseText })
    request.onerror = () => reject(new Error('The connection was lost. Nothing was stored; try again.'))
    request.onabort = () => reject(new Error('Cancelled.'))
    signal.addEventListener('abort', () => request.abort())
    request.send(file)
  })
}

const isGood = ({ status }: Answer) => status >= 200 && status < 300

/** A file whose rows cannot be understood as they are, with what its top shows where it has columns. */
export class InspectionRefused extends Error {
  constructor(
    message: string,
    readonly survey: SurveyAnswer | null,
  ) {
    super(message)
  }
}

const nameOf = (file: File) => file.name.slice(0, LONGEST_NAME)

function query(machine: string, file: File, more: Readonly<Record<string, string | null>>): string {
  const given = Object.entries(more).filter((entry): entry is [string, string] => entry[1] !== null)
  return new URLSearchParams([['machine', machine], ['name', nameOf(file)], ...given]).toString()
}

const jsonOf = (reading: Reading): string | null =>
  Object.keys(reading).length > 0 ? JSON.stringify(reading) : null

function surveyIn(body: string): SurveyAnswer | null {
  try {
    const found = JSON.parse(body) as Partial<SurveyAnswer>
    return found.layout && found.columns
      ? { layout: found.layout, columns: found.columns, reading: found.reading ?? null }
      : null
  } catch {
    return null
  }
}

/** Asks what is understood of a file, as its layout is remembered and as is said now; nothing is stored. */
export async function inspectFile(
  machineId: string,
  file: File,
  { reading, signal }: { readonly reading: Reading; readonly signal: AbortSignal },
  onProgress: (share: number | null) => void,
): Promise<Inspection> {
  const asked = query(machineId, file, { layout: 'fitting', reading: jsonOf(reading) })
  const answer = await post(`/api/inspections?${asked}`, file, signal, onProgress)
  if (!isGood(answer))
    throw new InspectionRefused(problemText(answer.body, answer.status), surveyIn(answer.body))
  return JSON.parse(answer.body) as Inspection
}

/** Sends a file for import; the same recording again is recognised and not stored twice. */
export async function sendFile(
  machineId: string,
  file: File,
  { layout, reading, replaces, signal }: Sending & { readonly signal: AbortSignal },
  onProgress: (share: number | null) => void,
): Promise<{ readonly id: string; readonly isDuplicate: boolean }> {
  const asked = query(machineId, file, { layout, reading: jsonOf(reading), replaces })
  const answer = await post(`/api/logs?${asked}`, file, signal, onProgress)
  if (!isGood(answer)) throw new Error(problemText(answer.body, answer.status))
  const { id } = JSON.parse(answer.body) as { id: string }
  return { id, isDuplicate: answer.status === 200 }
}

interface LogState {
  readonly state: string
  readonly progress: number | null
  readonly error?: { readonly title: string; readonly detail: string }
}

/** Asks for a log's state until it is done. @throws Error in words where the import failed */
export async function followLog(
  id: string,
  signal: AbortSignal,
  onState: (state: string, progress: number | null) => void,
): Promise<void> {
  let missed = 0
  for (;;) {
    const response = await fetch(`/api/logs/${id}`, { signal, cache: 'no-store' }).catch((error) => {
      // The import goes on without this page: a short break of the connection is no failure.
      missed += 1
      if (signal.aborted || missed > MOST_MISSED) throw error
      return null
    })
    await new Promise((resolve) => setTimeout(resolve, POLL_MS))
    signal.throwIfAborted()
    if (!response) continue
    missed = 0
    if (!response.ok) throw new Error(await problemOf(response))
    const { state, progress, error } = (await response.json()) as LogState
    onState(state, progress)
    if (state === 'done') return
    if (state === 'failed') throw new Error(error ? `${error.title}: ${error.detail}` : 'The import failed.')
  }
}
