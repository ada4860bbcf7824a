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
import { followLog, InspectionRefused, inspectFile, sendFile } from './transfer'
import { change, find, set, uploadStore } from './upload-list'
import { canImport, filesOf, newUpload, type Upload, type Uploads } from './upload-state'
import { letGo, watchedOf, withSent } from './with-sent'

const stops = new Map<string, AbortController>()
const saved = new WeakMap<LayoutDraft, Promise<LayoutAnswer>>()
/** One file is read at a time, and one is sent, so that neither waits for the other. */
const lanes = { reading: Promise.resolve(), sending: Promise.resolve() }

const textOf = (error: unknown) => (error instanceof Error ? error.message : String(error))
export const draftOf = ({ drafts }: Uploads, { machineId, survey }: Upload): LayoutDraft | undefined =>
  survey ? draftFor(drafts, machineId, survey.layout) : undefined

function inLane(lane: keyof typeof lanes, key: string, work: (signal: AbortSignal) => Promise<void>): void {
  const stop = new AbortController()
  stops.set(key, stop)
  lanes[lane] = lanes[lane].then(async () => {
    if (!stop.signal.aborted) await work(stop.signal)
  })
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
      ...readingOf(draftOf(uploadStore.get(), upload)),
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
  set({ ...uploadStore.get(), uploads: [...uploadStore.get().uploads, ...fresh] })
  for (const upload of fresh) inspect(upload)
}

/** Takes files off the list and puts others in the place of the first. */
function replace(gone: readonly Upload[], fresh: readonly Upload[]): void {
  for (const upload of gone) {
    stops.get(upload.key)?.abort()
    letGo(upload)
  }
  const isGone = (upload: Upload) => gone.some(({ key }) => key === upload.key)
  const at = uploadStore.get().uploads.findIndex(isGone)
  const before = uploadStore.get().uploads.slice(0, at)
  const after = uploadStore
    .get()
    .uploads.slice(at)
    .filter((upload) => !isGone(upload))
  set({ ...uploadStore.get(), uploads: [...before, ...fresh, ...after] })
  for (const upload of fresh) inspect(upload)
}

/** Files of one recording go in together: pieces of one logger's, or those of several loggers. */
export function join(uploads: readonly Upload[]): void {
  const [first, ...further] = uploads.flatMap(filesOf)
  replace(uploads, [newUpload(first, uploads[0].machineId, further)])
}

/** Files that were joined go in each for itself. */
export function takeApart(upload: Upload): void {
  replace(
    [upload],
    filesOf(upload).map((file) => newUpload(file, upload.machineId)),
  )
}

/** Another machine, another reading of the files that are not on their way yet. */
export function moveTo(machineId: string): void {
  for (const upload of uploadStore.get().uploads) {
    const waits = canImport(upload.stage) || upload.stage === 'refused' || upload.stage === 'waiting'
    if (!waits || upload.machineId === machineId) continue
    change(upload.key, { machineId, answers: {} })
    inspect({ ...upload, machineId })
  }
}

/** Says something of all files of a layout. */
export function say(machineId: string, layout: Layout, part: Partial<LayoutDraft>): void {
  const known = draftFor(uploadStore.get().drafts, machineId, layout)
  const next = { ...(known ?? emptyDraft(machineId, layout)), ...part }
  const others = uploadStore.get().drafts.filter((draft) => draft !== known)
  set({ ...uploadStore.get(), drafts: [...others, next] })
}

/** Takes back what was said of a layout. */
export function unsay(machineId: string, layout: Layout): void {
  const drafts = uploadStore
    .get()
    .drafts.filter((draft) => draft.machineId !== machineId || !isSameLayout(draft.layout, layout))
  set({ ...uploadStore.get(), drafts })
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
  const draft = draftOf(uploadStore.get(), upload)
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
  const open = openOf(uploadStore.get(), upload)
  if (open.length > 0) {
    // The question may be asked by another file of the same layout: it is marked there.
    const asking = open.map((id) =>
      id === 'overlap' ? upload : askerOf(uploadStore.get().uploads, upload, id),
    )
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
      const draft = draftOf(uploadStore.get(), upload)
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
    change(key, {
      stage: arrived.isDuplicate ? 'duplicate' : 'done',
      progress: null,
      uploadId: null,
      furtherIds: [],
    })
  } catch (error) {
    if (!signal.aborted) change(key, { stage: 'failed', failure: textOf(error), progress: null })
  }
}

/** Imports all that wait for nothing else; gives back the first that does, or null. */
export function importAll(): Upload | null {
  const held = uploadStore
    .get()
    .uploads.filter((upload) => canImport(upload.stage))
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
  const { layout: _, reading } = sendingOf(null, draftOf(uploadStore.get(), upload), upload.answers)
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
  set({ ...uploadStore.get(), uploads: uploadStore.get().uploads.filter((one) => one.key !== key) })
}

/** Takes everything that is over off the list. */
export function removeOver(isOver: (upload: Upload) => boolean): void {
  set({ ...uploadStore.get(), uploads: uploadStore.get().uploads.filter((upload) => !isOver(upload)) })
}
