import type { Inspection, SurveyAnswer } from '@/app/_server/inspection-shapes'
import type { Reading } from '@/lib/contract/reading'
import { authHeaders, problemOf, problemText } from '../api'
import type { Sending } from './answers'
import { ConnectionLost, isAway, type Persisting, persist } from './persist'

const POLL_MS = 400
const LONGEST_NAME = 200

interface Answer {
  readonly status: number
  readonly body: string
}

/** A file as it is sent: itself, or the id of the upload that brought it here before. */
export interface Sent {
  readonly file: File
  readonly uploadId: string | null
  /** Of a recording of several files: the uploads of the others. */
  readonly further?: readonly string[]
}

export interface Watched extends Persisting {
  readonly onProgress: (share: number | null) => void
}

/** Posts a file as it is, saying how much has left; fetch cannot tell that, so this is an XMLHttpRequest. */
function post(
  path: string,
  body: File | null,
  { signal, onProgress }: Watched,
  moved: () => void,
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest()
    const abort = () => request.abort()
    request.open('POST', path)
    for (const [name, value] of Object.entries(authHeaders())) request.setRequestHeader(name, value)
    request.setRequestHeader('content-type', 'application/octet-stream')
    request.upload.onprogress = (event) => {
      moved()
      // All of it has left: what is left to do is the server's, and takes an unknown time.
      onProgress(event.lengthComputable && event.loaded < event.total ? event.loaded / event.total : null)
    }
    request.onload = () => {
      if (isAway(request.status)) reject(new ConnectionLost())
      else resolve({ status: request.status, body: request.responseText })
    }
    request.onerror = () => reject(new ConnectionLost())
    request.onabort = () => reject(new Error('Cancelled.'))
    request.onloadend = () => signal.removeEventListener('abort', abort)
    signal.addEventListener('abort', abort)
    request.send(body)
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

/** The server no longer has the upload: the file must be sent again. */
export class UploadGone extends Error {}

function codeIn(body: string): string | null {
  try {
    return (JSON.parse(body) as { code?: string }).code ?? null
  } catch {
    return null
  }
}

const nameOf = (file: File) => file.name.slice(0, LONGEST_NAME)

function query(machine: string, sent: Sent, more: Readonly<Record<string, string | null>>): string {
  const all = { machine, name: nameOf(sent.file), upload: sent.uploadId, ...more }
  const given = Object.entries(all).filter((entry): entry is [string, string] => entry[1] !== null)
  const further = (sent.further ?? []).map((id): [string, string] => ['upload', id])
  return new URLSearchParams([...given, ...further]).toString()
}

async function postSent(path: string, { file, uploadId }: Sent, watched: Watched): Promise<Answer> {
  const onCut = (isCut: boolean) => {
    // A request that broke off left nothing: it begins anew.
    if (isCut) watched.onProgress(null)
    watched.onCut(isCut)
  }
  const body = uploadId ? null : file
  const answer = await persist((moved) => post(path, body, watched, moved), { ...watched, onCut })
  if (uploadId && codeIn(answer.body) === 'unknown-upload') throw new UploadGone()
  return answer
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

/**
 * Asks what is understood of a file, as its layout is remembered and as is said now; nothing is stored.
 * @throws InspectionRefused, UploadGone
 */
export async function inspectFile(
  machineId: string,
  sent: Sent,
  reading: Reading,
  watched: Watched,
): Promise<Inspection> {
  const asked = query(machineId, sent, { layout: 'fitting', reading: jsonOf(reading) })
  const answer = await postSent(`/api/inspections?${asked}`, sent, watched)
  if (!isGood(answer))
    throw new InspectionRefused(problemText(answer.body, answer.status), surveyIn(answer.body))
  return JSON.parse(answer.body) as Inspection
}

/**
 * Sends a file for import; the same recording again is recognised and not stored twice.
 * @throws UploadGone, Error in words
 */
export async function sendFile(
  machineId: string,
  sent: Sent,
  { layout, reading, replaces }: Sending,
  watched: Watched,
): Promise<{ readonly id: string; readonly isDuplicate: boolean }> {
  const asked = query(machineId, sent, { layout, reading: jsonOf(reading), replaces })
  let wasCut = false
  const onCut = (isCut: boolean) => {
    wasCut ||= isCut
    watched.onCut(isCut)
  }
  const answer = await postSent(`/api/logs?${asked}`, sent, { ...watched, onCut })
  if (!isGood(answer)) throw new Error(problemText(answer.body, answer.status))
  const { id } = JSON.parse(answer.body) as { id: string }
  // Where only the answer was lost, the log that is there already is this one.
  return { id, isDuplicate: answer.status === 200 && !wasCut }
}

interface LogState {
  readonly state: string
  readonly progress: number | null
  readonly error?: { readonly title: string; readonly detail: string }
}

/** Asks for a log's state until it is done. @throws Error in words where the import failed */
export async function followLog(
  id: string,
  persisting: Persisting,
  onState: (state: string, progress: number | null) => void,
): Promise<void> {
  const { signal } = persisting
  // The import goes on without this page: a break of the connection is no failure.
  const ask = async (): Promise<LogState> => {
    const response = await fetch(`/api/logs/${id}`, { signal, cache: 'no-store' }).catch(() => null)
    if (!response || isAway(response.status)) throw new ConnectionLost()
    if (!response.ok) throw new Error(await problemOf(response))
    return (await response.json()) as LogState
  }
  for (;;) {
    const { state, progress, error } = await persist(ask, persisting)
    signal.throwIfAborted()
    onState(state, progress)
    if (state === 'done') return
    if (state === 'failed') throw new Error(error ? `${error.title}: ${error.detail}` : 'The import failed.')
    await new Promise((resolve) => setTimeout(resolve, POLL_MS))
    signal.throwIfAborted()
  }
}
