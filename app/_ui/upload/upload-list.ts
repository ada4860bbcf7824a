import type { Upload, Uploads } from './upload-state'

// One list for the whole app, outside of any page: whoever leaves the upload page and comes back finds it as it is.
let state: Uploads = { uploads: [], drafts: [] }
const listeners = new Set<() => void>()

export function set(next: Uploads): void {
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

export const find = (key: string): Upload | undefined => state.uploads.find((upload) => upload.key === key)

export function change(key: string, part: Partial<Upload>): void {
  const uploads = state.uploads.map((upload) => (upload.key === key ? { ...upload, ...part } : upload))
  set({ ...state, uploads })
}
