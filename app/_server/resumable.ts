import { copyFile, link } from 'node:fs/promises'
import { FileStore } from '@tus/file-store'
import { ERRORS, Server } from '@tus/server'
import { freeBytes, RESUMABLE_MS, resumableFolder } from '@/app/_jobs/temp-file'
import { ApiProblem, answerProblem, type ProblemCode } from './api-problem'
import { newId } from './new-id'

export const UPLOADS_PATH = '/api/uploads'
/** Ids are names of files in one folder: nothing else is looked for there. */
const ID = /^[\w-]{1,64}$/
const LOCKED = 423
const INTERNAL = 500
const FIRST_ERROR = 400
/** Less than this is left of a disk where a write failed for lack of room. */
const LAST_BYTES = 1 << 20

/** What each refusal of the protocol's library is called here; any other is a request that the protocol does not know. */
const CODES: Readonly<Record<number, ProblemCode>> = {
  404: 'unknown-upload',
  409: 'upload-offset',
  410: 'unknown-upload',
  412: 'upload-version',
  413: 'upload-too-long',
  [LOCKED]: 'upload-locked',
  [INTERNAL]: 'internal',
}

interface Resumable {
  readonly store: FileStore
  readonly server: Server
}

// Next evaluates modules several times; who writes to which upload must be known in one place.
const shared = globalThis as typeof globalThis & { tankwardUploads?: Map<string, Resumable> }

function idOf(request: Request): string | undefined {
  const id = new URL(request.url).pathname.slice(UPLOADS_PATH.length + 1)
  return ID.test(id) ? id : undefined
}

function resumable(): Resumable {
  const directory = resumableFolder()
  shared.tankwardUploads ??= new Map()
  const known = shared.tankwardUploads.get(directory)
  if (known) return known
  const store = new FileStore({ directory, expirationPeriodInMilliseconds: RESUMABLE_MS })
  const server = new Server({
    path: UPLOADS_PATH,
    datastore: store,
    relativeLocation: true,
    // No page of another site writes here.
    allowedOrigins: [],
    namingFunction: newId,
    getFileIdFromRequest: idOf,
    onResponseError: (_request, error) =>
      error === ERRORS.ERR_LOCK_TIMEOUT ? { status_code: LOCKED, body: '' } : undefined,
  })
  const made = { store, server }
  shared.tankwardUploads.set(directory, made)
  return made
}

/**
 * Answers a request of the tus protocol (1.0.0, with creation, creation-with-upload, termination and expiration).
 * @throws ApiProblem `disk-full` where what is announced does not fit
 */
export async function answerResumable(request: Request): Promise<Response> {
  const announced = Number(request.headers.get('upload-length') ?? 0)
  if (request.method === 'POST' && announced > (await freeBytes())) throw new ApiProblem('disk-full')
  const answer = await resumable().server.handleWeb(request)
  if (answer.status < FIRST_ERROR) return answer
  const code = CODES[answer.status] ?? 'bad-upload'
  // The library does not say why a write failed.
  const isFull = code === 'internal' && (await freeBytes()) < LAST_BYTES
  const values = { id: idOf(request) ?? '', reason: (await answer.text()).trim() }
  const problem = answerProblem(new ApiProblem(isFull ? 'disk-full' : code, values))
  const version = answer.headers.get('tus-resumable')
  if (version) problem.headers.set('Tus-Resumable', version)
  return problem
}

/** A file that was sent in pieces and is whole. */
export interface WholeUpload {
  readonly bytes: number
  /** The name it was sent under (`filename` of Upload-Metadata). */
  readonly fileName: string | null
}

/**
 * Gives a whole upload a second name: whoever asked removes that one, the upload stays for another try.
 * @throws ApiProblem `unknown-upload`, `upload-incomplete`
 */
export async function takeUpload(id: string, path: string): Promise<WholeUpload> {
  const { store } = resumable()
  const upload = ID.test(id) ? await store.getUpload(id).catch(() => null) : null
  if (!upload) throw new ApiProblem('unknown-upload', { id })
  const { offset, size = null, metadata } = upload
  if (offset !== size) throw new ApiProblem('upload-incomplete', { id, received: offset, announced: size })
  const from = upload.storage?.path ?? ''
  // Not every file system has second names.
  await link(from, path).catch(() => copyFile(from, path))
  return { bytes: offset, fileName: metadata?.filename ?? null }
}
