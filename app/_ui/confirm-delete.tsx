'use client'
import { useRouter } from 'next/navigation'
import { useRef, useState } from 'react'
import { send } from './api'

/** Deletes after a question that says what will be gone. */
export function ConfirmDelete({
  path,
  what,
  consequence,
  then,
  verb = 'Delete',
  isPlain = false,
}: {
  path: string
  what: string
  consequence: string
  /** Where to go afterwards; left out: the page is asked for again. */
  then?: string
  verb?: string
  /** Beside many others of its kind: its button without a frame, its name for whoever cannot see the row. */
  isPlain?: boolean
}) {
  const dialog = useRef<HTMLDialogElement>(null)
  const router = useRouter()
  const [failure, setFailure] = useState<string | null>(null)
  const [isBusy, setBusy] = useState(false)
  const remove = async () => {
    setBusy(true)
    try {
      await send('DELETE', path)
      dialog.current?.close()
      if (then) router.push(then)
      router.refresh()
    } catch (error) {
      setFailure(error instanceof Error ? error.message : String(error))
    } finally {
      setBusy(false)
    }
  }
  return (
    <>
      <button
        type="button"
        className={isPlain ? 'plain' : 'danger'}
        aria-label={`${verb} ${what}`}
        onClick={() => dialog.current?.showModal()}
      >
        {isPlain ? verb : `${verb} ${what}`}
      </button>
      <dialog ref={dialog} className="sheet" aria-label={`${verb} ${what}?`}>
        <h2>
          {verb} {what}?
        </h2>
        <p>{consequence}</p>
        {failure ? <p className="error">{failure}</p> : null}
        <div className="actions">
          <button type="button" className="danger" onClick={remove} disabled={isBusy}>
            {verb === 'Delete' ? 'Delete for good' : verb}
          </button>
          <button type="button" onClick={() => dialog.current?.close()}>
            Keep
          </button>
        </div>
      </dialog>
    </>
  )
}
