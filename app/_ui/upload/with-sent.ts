import { giveUp, IN_PIECES_FROM_BYTES, sendInPieces } from './send-in-pieces'
import { type Sent, UploadGone, type Watched } from './transfer'
import { change, find } from './upload-list'
import type { Upload } from './upload-state'

export function watchedOf(key: string, signal: AbortSignal): Watched {
  return {
    signal,
    onProgress: (progress) => change(key, { progress }),
    onCut: (isCut) => change(key, { isCut }),
  }
}

/** Does something with a file that large ones are sent for in pieces first, and again where the server has lost it. */
export async function withSent<T>(
  key: string,
  watched: Watched,
  work: (sent: Sent) => Promise<T>,
): Promise<T> {
  for (;;) {
    const upload = find(key)
    if (!upload) throw new Error('Taken off the list.')
    let { uploadId } = upload
    const further = [...upload.furtherIds]
    const onWentOn = (wentOnFrom: number) => change(key, { wentOnFrom, progress: wentOnFrom })
    const isSeveral = upload.further.length > 0
    if (uploadId === null && (isSeveral || upload.file.size >= IN_PIECES_FROM_BYTES)) {
      uploadId = await sendInPieces(upload.file, { ...watched, onWentOn })
      change(key, { uploadId, progress: null })
    }
    for (const file of upload.further.slice(further.length)) {
      further.push(await sendInPieces(file, { ...watched, onWentOn }))
      change(key, { furtherIds: [...further], progress: null })
    }
    try {
      return await work({ file: upload.file, uploadId, further })
    } catch (error) {
      if (!(error instanceof UploadGone)) throw error
      change(key, { uploadId: null, furtherIds: [], wentOnFrom: null })
    }
  }
}

/** Leaves nothing of a large file behind that nobody needs any more. */
export function letGo({ file, uploadId, further, furtherIds }: Upload): void {
  // What cannot be told now is removed by the server in time.
  if (uploadId) giveUp(file, uploadId).catch(() => {})
  for (const [i, id] of furtherIds.entries()) giveUp(further[i], id).catch(() => {})
}
