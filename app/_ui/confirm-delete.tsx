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
}: {
  path: string
  what: string
  consequence: string
  then: string
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
      router.push(then)
      router.refresh()
    } catch (error) {
      setFailure(error instanceof Error ? error.message : String(error))
    } finally {
      setBusy(false)
    }
  }
  return (
    <>
      <button type="button" className="danger" onClick={() => dialog.current?.showModal()}>
        Delete {what}
      </button>
      <dialog ref={dialog} className="sheet" aria-label={`Delete ${what}?`}>
        <h2>Delete {what}?</h2>
        <p>{consequence}</p>
        {failure ? <p className="error">{failure}</p> : null}
        <div className="actions">
          <button type="button" className="danger" onClick={remove} disabled={isBusy}>
            Delete for good
          </button>
          <button type="button" onClick={() => dialog.current?.close()}>
            Keep
          </button>
        </div>
      </dialog>
    </>
  )
}
