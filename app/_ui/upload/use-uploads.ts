'use client'
import { useEffect, useSyncExternalStore } from 'react'
import { uploadStore } from './upload-list'
import { needsThisPage, type Uploads } from './upload-state'

const NOTHING: Uploads = { uploads: [], drafts: [] }

/** The chosen files and what was said of them. */
export const useUploads = (): Uploads =>
  useSyncExternalStore(uploadStore.subscribe, uploadStore.get, () => NOTHING)

/** Has the browser ask before files are lost that have not reached the server. */
export function useLeaveWarning({ uploads }: Uploads): void {
  const wouldLose = uploads.some(({ stage }) => needsThisPage(stage))
  useEffect(() => {
    if (!wouldLose) return
    const ask = (event: BeforeUnloadEvent) => event.preventDefault()
    window.addEventListener('beforeunload', ask)
    return () => window.removeEventListener('beforeunload', ask)
  }, [wouldLose])
}
