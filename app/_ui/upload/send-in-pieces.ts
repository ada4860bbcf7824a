import type { DetailedError, Upload, UrlStorage } from 'tus-js-client'
import { authHeaders, problemText } from '../api'
import { filePrint } from './file-print'
import { ConnectionLost, isAway, type Persisting, persist } from './persist'

const UPLOADS = '/api/uploads'
/** From here on a file goes in pieces, so that a broken connection costs a part of it only. */
export const IN_PIECES_FROM_BYTES = 2_000_000
/** Small enough to get through on 4 kB/s before a server ends a request (5 min), and through what stands before it. */
const PIECE_BYTES = 1 << 20
/** A connection over which nothing moves for so long is given up and made anew. */
const STALLED_MS = 30_000
/** The server keeps an upload three days. */
const KEPT_MS = 3 * 86_400_000
const CONFLICT = 409

export interface Going extends Persisting {
  /** @param share of the file that has left, 0 to 1 */
  readonly onProgress: (share: number) => void
  /** Told the share that was there when an upload is gone on with. */
  readonly onWentOn: (share: number) => void
}

const idOf = (url: string | null): string => url?.split('/').pop() ?? ''

/** What a failed request says: lost, or refused for a reason in words. */
function reasonOf(error: Error | DetailedError): Error {
  const answer = 'originalResponse' in error ? error.originalResponse : null
  const status = answer?.getStatus() ?? 0
  // Another request was still writing: asked anew, the server says how much is there.
  if (isAway(status) || status === CONFLICT) return new ConnectionLost()
  return new Error(problemText(answer?.getBody() ?? '', status))
}

/** One try to send the rest; a stalled one is given up. @param onThere told the bytes that the server has */
function attempt(
  upload: Upload,
  going: Going,
  moved: () => void,
  onThere: (bytes: number) => void,
): Promise<void> {
  return new Promise((resolve, reject) => {
    let timer: ReturnType<typeof setTimeout>
    const end = (how: () => void) => {
      clearTimeout(timer)
      going.signal.removeEventListener('abort', onAbort)
      how()
    }
    const giveUp = (error: Error) => {
      void upload.abort()
      end(() => reject(error))
    }
    const onAbort = () => giveUp(new Error('Cancelled.'))
    const alive = () => {
      clearTimeout(timer)
      timer = setTimeout(() => giveUp(new ConnectionLost()), STALLED_MS)
    }
    going.signal.addEventListener('abort', onAbort)
    upload.options.onProgress = (sent, total) => {
      alive()
      going.onProgress(total > 0 ? sent / total : 1)
    }
    upload.options.onAfterResponse = (request, response) => {
      alive()
      if (response.getStatus() >= 400) return
      moved()
      const there = Number(response.getHeader('Upload-Offset') ?? 0)
      onThere(there)
      if (request.getMethod() === 'HEAD' && there > 0)
        going.onWentOn(there / (upload.options.uploadSize || 1))
    }
    upload.options.onSuccess = () => end(resolve)
    upload.options.onError = (error) => end(() => reject(reasonOf(error)))
    alive()
    upload.start()
  })
}

async function forgetOld(storage: UrlStorage | undefined): Promise<void> {
  for (const { creationTime, urlStorageKey } of (await storage?.findAllUploads()) ?? [])
    if (Date.now() - new Date(creationTime).getTime() > KEPT_MS) await storage?.removeUpload(urlStorageKey)
}

/**
 * Sends a file so that a broken connection costs nothing that is there already, by the tus protocol; also after the page
 * was closed and the same file chosen again. Tries until it is whole or no longer wanted.
 * @returns the upload's id, for `?upload=`
 * @throws Error in words where the server refuses it
 */
export async function sendInPieces(file: File, going: Going): Promise<string> {
  const { Upload } = await import('tus-js-client')
  const upload = new Upload(file, {
    endpoint: UPLOADS,
    chunkSize: PIECE_BYTES,
    uploadSize: file.size,
    retryDelays: null,
    headers: authHeaders(),
    metadata: { filename: file.name },
    fingerprint: filePrint,
  })
  await forgetOld(upload.options.urlStorage)
  const [earlier] = await upload.findPreviousUploads()
  if (earlier) upload.resumeFromPreviousUpload(earlier)
  let there = 0
  const onThere = (bytes: number) => {
    there = bytes
  }
  const onCut = (isCut: boolean) => {
    // What had left is not what has arrived.
    if (isCut) going.onProgress(there / file.size)
    going.onCut(isCut)
  }
  try {
    await persist((moved) => attempt(upload, going, moved, onThere), { ...going, onCut })
  } catch (error) {
    // Whoever cancels wants nothing of it kept.
    if (going.signal.aborted) await upload.abort(true).catch(() => {})
    throw error
  }
  return idOf(upload.url)
}

/** Tells the server that an upload is no longer needed; what is not told goes by itself after three days. */
export async function giveUp(file: File, id: string): Promise<void> {
  const { defaultOptions } = await import('tus-js-client')
  const storage = defaultOptions.urlStorage
  for (const { urlStorageKey, uploadUrl } of await storage.findUploadsByFingerprint(await filePrint(file)))
    if (idOf(uploadUrl) === id) await storage.removeUpload(urlStorageKey)
  await fetch(`${UPLOADS}/${id}`, {
    method: 'DELETE',
    headers: { ...authHeaders(), 'tus-resumable': '1.0.0' },
  })
}
