'use client'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import type { SavedView } from '@/app/_server/views/saved-views'
import { send } from './api'

type Done = { readonly what: 'deleted' | 'saved' | 'renamed'; readonly view: SavedView }

/** Views of this page that have a name: to open, to save what is shown, to rename, to delete and to bring back. */
export function SavedViews({ page, views }: { page: SavedView['page']; views: readonly SavedView[] }) {
  const router = useRouter()
  const [draft, setDraft] = useState('')
  const [renamed, setRenamed] = useState<SavedView | null>(null)
  const [done, setDone] = useState<Done | null>(null)
  const [failure, setFailure] = useState<string | null>(null)
  const [isBusy, setBusy] = useState(false)

  const change = async (what: Done['what'], view: SavedView) => {
    setBusy(true)
    setFailure(null)
    try {
      const path = `/api/views/${view.id}`
      const { name, query } = view
      if (what === 'deleted') await send('DELETE', path)
      else await send('PUT', path, { page, name, query })
      setDone({ what, view })
      setRenamed(null)
      setDraft('')
      router.refresh()
    } catch (error) {
      setFailure(error instanceof Error ? error.message : String(error))
    } finally {
      setBusy(false)
    }
  }
  const shown = () => window.location.search.replace(/^\?/, '')
  const newId = () => `view-${Date.now().toString(36)}-${Math.random().toString(36).slice(2, 8)}`

  return (
    <details className="twin">
      <summary>Saved views{views.length ? ` (${views.length})` : ''}</summary>
      {views.length ? (
        <ul className="views" aria-label="Saved views">
          {views.map((view) => (
            <li key={view.id}>
              {renamed?.id === view.id ? (
                <form
                  className="tools"
                  onSubmit={(event) => {
                    event.preventDefault()
                    if (renamed.name.trim()) change('renamed', renamed)
                  }}
                >
                  <label>
                    New name{' '}
                    <input
                      value={renamed.name}
                      maxLength={80}
                      onChange={(event) => setRenamed({ ...renamed, name: event.target.value })}
                    />
                  </label>
                  <button type="submit" disabled={isBusy || !renamed.name.trim()}>
                    Rename
                  </button>
                  <button type="button" onClick={() => setRenamed(null)}>
                    Keep the old one
                  </button>
                </form>
              ) : (
                <span className="row-actions">
                  {/* A full load: tables read their state from the address when they are mounted. */}
                  <a href={`/${page}${view.query ? `?${view.query}` : ''}`}>{view.name}</a>
                  <button
                    type="button"
                    className="plain"
                    aria-label={`Rename ${view.name}`}
                    onClick={() => setRenamed(view)}
                  >
                    rename
                  </button>
                  <button
                    type="button"
                    className="plain"
                    aria-label={`Delete ${view.name}`}
                    disabled={isBusy}
                    onClick={() => change('deleted', view)}
                  >
                    delete
                  </button>
                </span>
              )}
            </li>
          ))}
        </ul>
      ) : (
        <p className="soft">
          None yet. What is shown stands in the address: give it a name to find it again.
        </p>
      )}
      <form
        className="tools"
        onSubmit={(event) => {
          event.preventDefault()
          if (draft.trim()) change('saved', { id: newId(), page, name: draft.trim(), query: shown() })
        }}
      >
        <label>
          Save what is shown as{' '}
          <input value={draft} maxLength={80} onChange={(event) => setDraft(event.target.value)} />
        </label>
        <button type="submit" disabled={isBusy || !draft.trim()}>
          Save
        </button>
      </form>
      <p aria-live="polite" className="small">
        {done ? `“${done.view.name}” was ${done.what}. ` : ''}
        {done?.what === 'deleted' ? (
          <button type="button" disabled={isBusy} onClick={() => change('saved', done.view)}>
            Undo
          </button>
        ) : null}
      </p>
      {failure ? <p className="error">{failure}</p> : null}
    </details>
  )
}
