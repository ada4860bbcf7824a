'use client'
import { useId, useState } from 'react'
import { Field } from '../field'
import { Failure } from './failure'
import { useSending } from './use-sending'

/** Who sees to it, and what else is to know. */
export function OwnerAndNotes({
  id,
  owner,
  notes,
}: {
  id: string
  owner: string | null
  notes: string | null
}) {
  const [who, setWho] = useState(owner ?? '')
  const [text, setText] = useState(notes ?? '')
  const area = useId()
  const { isBusy, failure, sending } = useSending()
  const isChanged = who !== (owner ?? '') || text !== (notes ?? '')
  return (
    <form
      aria-label="Owner and notes"
      onSubmit={(event) => {
        event.preventDefault()
        void sending('PUT', `/api/measures/${id}`, { owner: who || null, notes: text || null })
      }}
    >
      <div className="fields">
        <Field label="Owner" optional value={who} onChange={setWho} />
      </div>
      <p>
        <label htmlFor={area}>Notes</label>
        <br />
        <textarea
          id={area}
          rows={3}
          style={{ width: '100%' }}
          value={text}
          onChange={(event) => setText(event.target.value)}
        />
      </p>
      <Failure text={failure} />
      <div className="actions">
        <button type="submit" disabled={isBusy || !isChanged}>
          {isBusy ? 'Storing …' : 'Store owner and notes'}
        </button>
      </div>
    </form>
  )
}
