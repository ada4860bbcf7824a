import type { LayoutAnswer, SurveyAnswer } from '@/app/_server/inspection-shapes'
import { isSameLayout, type Layout } from '@/lib/contract/layout'
import { send } from '../api'
import {
  draftFor,
  emptyDraft,
  type FileAnswers,
  hasSaid,
  type LayoutDraft,
  lastingReading,
  openQuestions,
  readingOf,
  type Sending,
  sendingOf,
} from './answers'
import { authorName } from './author-name'
import { askerOf } from './peers'
import { giveUp, IN_PIECES_FROM_BYTES, sendInPieces } from './send-in-pieces'
import {
  followLog,
  InspectionRefused,
  inspectFile,
  type Sent,
  sendFile,
  UploadGone,
  type Watched,
} from './transfer'
import { canImport, newUpload, type Upload, type Uploads } from './upload-state'

// One list for the whole app, outside of any page: whoever leaves the upload page and comes back finds it as it is.
let state: Uploads = { uploads: [], drafts: [] }
const listeners = new Set<() => void>()
const stops = new Map<string, AbortController>()
const saved = new WeakMap<LayoutDraft, Promise<LayoutAnswer>>()
/** One file is read at a time, and one is sent, so that neither waits for the other. */
const lanes = { reading: Promise.resolve(), sending: Promise.resolve() }

function set(next: Uploads): void {
  state = next
  for (const listener of listeners) listener()
}

export const uploadStore = {
  subscribe(listener: () => void): () => void {
    listeners.add(listener)
    return () => {
      listeners.delete(listener)
    }
  },
  get: (): Uploads => state,
}

const textOf = (error: unknown) => (error instanceof Error ? error.message : String(error))
const find = (key: string): Upload | undefined => state.uploads.find((upload) => upload.key === key)
export const draftOf = ({ drafts }: Uploads, { machineId, survey }: Upload): LayoutDraft | undefined =>
  survey ? draftFor(drafts, machineId, survey.layout) : undefined

function change(key: string, part: Partial<Upload>): void {
  const uploads = state.uploads.map((upload) => (upload.key === key ? { ...upload, ...part } : upload))
  set({ ...state, uploads })
}

function inLane(lane: keyof typeof lanes, key: string, work: (signal: AbortSignal) => Promise<void>): void {
  const stop = new AbortController()
  stops.set(key, stop)
  lanes[lane] = lanes[lane].then(async () => {
    if (!stop.signal.aborted) await work(stop.signal)
  })
}

function watchedOf(key: string, signal: AbortSignal): Watched {
  return {
    signal,
    onProgress: (progress) => change(key, { progress }),
    onCut: (isCut) => change(key, { isCut }),
  }
}

/** Does something with a file that large ones are sent for in pieces first, and again where the server has lost it. */
async function withSent<T>(key: string, watched: Watched, work: (sent: Sent) => Promise<T>): Promise<T> {
  for (;;) {
    const upload = find(key)
    if (!upload) throw new Error('Taken off the list.')
    let { uploadId } = upload
    if (uploadId === null && upload.file.size >= IN_PIECES_FROM_BYTES) {
      const onWentOn = (wentOnFrom: number) => change(key, { wentOnFrom, progress: wentOnFrom })
      uploadId = await sendInPieces(upload.file, { ...watched, onWentOn })
      change(key, { uploadId, progress: null })
    }
    try {
      return await work({ file: upload.file, uploadId })
    } catch (error) {
      if (!(error instanceof UploadGone)) throw error
      change(key, { uploadId: null, wentOnFrom: null })
    }
  }
}

/** Leaves nothing of a large file behind that nobody needs any more. */
function letGo({ file, uploadId }: Upload): void {
  // What cannot be told now is removed by the server in time.
  if (uploadId) giveUp(file, uploadId).catch(() => {})
}

/** Reads a file for what would be understood of it, with what was said of its layout so far. */
export function inspect({ key }: Upload): void {
  change(key, { stage: 'waiting', progress: null, failure: null })
  inLane('reading', key, async (signal) => {
    const upload = find(key)
    if (!upload) return
    change(key, { stage: 'inspecting', progress: null, failure: null })
    const start = upload.answers.startedAt
    const reading = {
      ...readingOf(draftOf(state, upload)),
      ...(start === undefined ? {} : { startedAt: start }),
    }
    try {
      const watched = watchedOf(key, signal)
      const inspection = await withSent(key, watched, (sent) =>
        inspectFile(upload.machineId, sent, reading, watched),
      )
      change(key, { stage: 'inspected', inspection, survey: inspection, progress: null, tries: 0 })
    } catch (error) {
      if (signal.aborted) return
      const survey: SurveyAnswer | null = error instanceof InspectionRefused ? error.survey : null
      change(key, { stage: 'refused', failure: textOf(error), survey, inspection: null, progress: null })
    }
  })
}

export function add(machineId: string, files: readonly File[]): void {
  const fresh = files.map((file) => newUpload(file, machineId))
  set({ ...state, uploads: [...state.uploads, ...fresh] })
  for (const upload of fresh) inspect(upload)
}

/** Another machine, another reading of the files that are not on their way yet. */
export function moveTo(machineId: string): void {
  for (const upload of state.uploads) {
    const waits = canImport(upload.stage) || upload.stage === 'refused' || upload.stage === 'waiting'
    if (!waits || upload.machineId === machineId) continue
    change(upload.key, { machineId, answers: {} })
    inspect({ ...upload, machineId })
  }
}

/** Says something of all files of a layout. */
export function say(machineId: string, layout: Layout, part: Partial<LayoutDraft>): void {
  const known = draftFor(state.drafts, machineId, layout)
  const next = { ...(known ?? emptyDraft(machineId, layout)), ...part }
  const others = state.drafts.filter((draft) => draft !== known)
  set({ ...state, drafts: [...others, next] })
}

/** Takes back what was said of a layout. */
export function unsay(machineId: string, layout: Layout): void {
  const drafts = state.drafts.filter(
    (draft) => draft.machineId !== machineId || !isSameLayout(draft.layout, layout),
  )
  set({ ...state, drafts })
}

/** Says something of one file alone. */
export function answer({ key, answers }: Upload, part: FileAnswers): void {
  change(key, { answers: { ...answers, ...part } })
}

/** Keeps a layout's answers once, however many files are imported with them. */
function remember(upload: Upload, draft: LayoutDraft): Promise<LayoutAnswer> {
  const made =
    saved.get(draft) ??
    (send('POST', `/api/machines/${encodeURIComponent(upload.machineId)}/layouts`, {
      layout: draft.layout,
      reading: lastingReading(upload.inspection?.reading?.reading ?? {}, draft, upload.answers),
      author: authorName.get() || null,
      fileName: upload.file.name.slice(0, 200),
    }) as Promise<LayoutAnswer>)
  saved.set(draft, made)
  // What failed is tried again with the next file.
  made.catch(() => saved.delete(draft))
  return made
}

async function whatToSend(upload: Upload): Promise<Sending> {
  const draft = draftOf(state, upload)
  const { remembered, reading = {} } = upload.inspection?.reading ?? {}
  if (draft?.remember && hasSaid(draft)) {
    const { id } = await remember(upload, draft)
    return sendingOf({ id, reading }, undefined, upload.answers)
  }
  return sendingOf(remembered ? { id: remembered.id, reading } : null, draft, upload.answers)
}

/** What the import of a file still waits for. */
export function openOf(uploads: Uploads, upload: Upload) {
  const { inspection, answers } = upload
  return inspection ? openQuestions(inspection, draftOf(uploads, upload), answers) : []
}

/** Sends a file for import; with questions open it is marked instead. Gives back whether it is on its way. */
export function importOne({ key }: Upload): boolean {
  const upload = find(key)
  if (!upload) return false
  const open = openOf(state, upload)
  if (open.length > 0) {
    // The question may be asked by another file of the same layout: it is marked there.
    const asking = open.map((id) => (id === 'overlap' ? upload : askerOf(state.uploads, upload, id)))
    for (const one of new Set(asking)) change(one.key, { tries: one.tries + 1 })
    return false
  }
  change(key, { stage: 'queued', progress: null, failure: null })
  inLane('sending', key, async (signal) => {
    change(key, { stage: 'sending', progress: null })
    try {
      const how = await whatToSend(upload)
      const watched = watchedOf(key, signal)
      const arrived = await withSent(key, watched, (sent) => sendFile(upload.machineId, sent, how, watched))
      change(key, { logId: arrived.id, stage: 'working', progress: null, state: 'received' })
      // The next file need not wait until this one is analysed.
      void follow(key, arrived, signal)
    } catch (error) {
      const draft = draftOf(state, upload)
      // Another try remembers anew: what was remembered may have been forgotten meanwhile.
      if (draft) saved.delete(draft)
      if (!signal.aborted) change(key, { stage: 'failed', failure: textOf(error), progress: null })
    }
  })
  return true
}

async function follow(
  key: string,
  arrived: { readonly id: string; readonly isDuplicate: boolean },
  signal: AbortSignal,
): Promise<void> {
  try {
    const watched = watchedOf(key, signal)
    await followLog(arrived.id, watched, (now, progress) => change(key, { state: now, progress }))
    const done = find(key)
    if (done) letGo(done)
    change(key, { stage: arrived.isDuplicate ? 'duplicate' : 'done', progress: null, uploadId: null })
  } catch (error) {
    if (!signal.aborted) change(key, { stage: 'failed', failure: textOf(error), progress: null })
  }
}

/** Imports all that wait for nothing else; gives back the first that does, or null. */
export function importAll(): Upload | null {
  const held = state.uploads
    .filter((upload) => canImport(upload.stage))
    .filter((upload) => !importOne(upload))
  return held[0] ?? null
}

/** Stops what is going on; a log that has already arrived is deleted. */
export async function cancel(upload: Upload): Promise<void> {
  stops.get(upload.key)?.abort()
  try {
    if (upload.logId) await send('DELETE', `/api/logs/${upload.logId}`)
    const stage = upload.inspection ? 'inspected' : 'undone'
    change(upload.key, { stage, logId: null, progress: null, isCut: false })
  } catch (error) {
    change(upload.key, { stage: 'failed', failure: textOf(error), progress: null })
  }
}

export async function undo(upload: Upload): Promise<void> {
  try {
    await send('DELETE', `/api/logs/${upload.logId}`)
    change(upload.key, { stage: 'undone', logId: null, failure: null })
  } catch (error) {
    change(upload.key, { failure: textOf(error) })
  }
}

/** Reads the stored log of the same file again, as was said now. */
export async function rereadStored(upload: Upload, logId: string): Promise<void> {
  const { layout: _, reading } = sendingOf(null, draftOf(state, upload), upload.answers)
  try {
    await send('PUT', `/api/logs/${logId}/reading`, { ...upload.inspection?.reading?.reading, ...reading })
    change(upload.key, { stage: 'duplicate', logId, failure: null })
  } catch (error) {
    change(upload.key, { failure: textOf(error) })
  }
}

export function remove({ key }: Upload): void {
  stops.get(key)?.abort()
  const upload = find(key)
  if (upload) letGo(upload)
  set({ ...state, uploads: state.uploads.filter((one) => one.key !== key) })
}

/** Takes everything that is over off the list. */
export function removeOver(isOver: (upload: Upload) => boolean): void {
  set({ ...state, uploads: state.uploads.filter((upload) => !isOver(upload)) })
}
