'use client'
import { useRouter } from 'next/navigation'
import { useEffect, useState } from 'react'
import type { MeasureAnswer } from '@/app/_server/measure-shapes'
import type { OptionId } from '@/lib/contract/result'
import { Field } from '../field'
import { authorName } from '../upload/author-name'
import { Failure } from './failure'
import { useSending } from './use-sending'

/** Turns an option into a measure: its saving, as this log promises it, is kept to be held against later. */
export function DecideForm({
  machineId,
  logId,
  optionId,
}: {
  machineId: string
  logId: string
  optionId: OptionId
}) {
  const router = useRouter()
  const [isOpen, setOpen] = useState(false)
  const [owner, setOwner] = useState('')
  const [notes, setNotes] = useState('')
  const [author, setAuthor] = useState('')
  const { isBusy, failure, sending } = useSending()
  useEffect(() => setAuthor(authorName.get()), [])
  if (!isOpen)
    return (
      <div className="actions">
        <button type="button" onClick={() => setOpen(true)}>
          Decide …
        </button>
      </div>
    )
  const decide = () => {
    authorName.set(author)
    const wanted = { machineId, logId, optionId, owner: owner || null, notes: notes || null }
    return sending('POST', '/api/measures', { ...wanted, author: author || null }, (answer) =>
      router.push(`/measures/${(answer as MeasureAnswer).id}`),
    )
  }
  return (
    <form
      className="correction"
      aria-label="Make a measure of it"
      onSubmit={(event) => {
        event.preventDefault()
        void decide()
      }}
    >
      <h3>Make a measure of it</h3>
      <p className="soft">
        The saving that this log promises is kept as it is now; logs after the change are held against it.
      </p>
      <div className="fields">
        <Field label="Owner" optional value={owner} onChange={setOwner} />
        <Field label="Notes" optional value={notes} onChange={setNotes} />
        <Field label="Said by" optional value={author} onChange={setAuthor} />
      </div>
      <Failure text={failure} />
      <div className="actions">
        <button type="submit" className="main" disabled={isBusy}>
          {isBusy ? 'Storing …' : 'Propose this measure'}
        </button>
        <button type="button" onClick={() => setOpen(false)}>
          Cancel
        </button>
      </div>
    </form>
  )
}
