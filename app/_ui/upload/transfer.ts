import { authHeaders, problemOf, problemText } from '../api'
import type { Inspection } from './upload-state'

const POLL_MS = 400
const MOST_MISSED = 30

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

/** Asks what is understood of a file; nothing is stored. */
export async function inspectFile(
  machineId: string,
  file: File,
  signal: AbortSignal,
  onProgress: (share: number | null) => void,
): Promise<Inspection> {
  const answer = await post(
    `/api/inspections?machine=${encodeURIComponent(machineId)}&name=${encodeURIComponent(file.name)}`,
    file,
    signal,
    onProgress,
  )
  if (!isGood(answer)) throw new Error(problemText(answer.body, answer.status))
  return JSON.parse(answer.body) as Inspection
}

/** Sends a file for import; the same recording again is recognised and not stored twice. */
export async function sendFile(
  machineId: string,
  file: File,
  signal: AbortSignal,
  onProgress: (share: number | null) => void,
): Promise<{ readonly id: string; readonly isDuplicate: boolean }> {
  const answer = await post(
    `/api/logs?machine=${encodeURIComponent(machineId)}&name=${encodeURIComponent(file.name)}`,
    file,
    signal,
    onProgress,
  )
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
