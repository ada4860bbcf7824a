'use client'
import { useEffect, useState } from 'react'
import { proofWords } from '@/app/_words/en/proof'
import type { MeasureState } from '@/lib/contract/measure'
import { Field } from '../field'
import { authorName } from '../upload/author-name'
import { Failure } from './failure'
import { useSending } from './use-sending'

/** The order of steps; whatever lies before is a step back. */
const ORDER: readonly MeasureState[] = ['proposed', 'approved', 'ordered', 'installed', 'verified']

function stepWords(state: MeasureState, next: MeasureState): string {
  const isBack = next !== 'rejected' && ORDER.indexOf(next) < ORDER.indexOf(state) && state !== 'rejected'
  return isBack ? `Back to ${proofWords.states[next]}` : proofWords.steps[next]
}

/** Takes a measure on: which step, when it happened, who says so and why. */
export function StepForm({
  id,
  state,
  next,
}: {
  id: string
  state: MeasureState
  next: readonly MeasureState[]
}) {
  const [on, setOn] = useState('')
  const [reason, setReason] = useState('')
  const [author, setAuthor] = useState('')
  const { isBusy, failure, sending } = useSending()
  useEffect(() => setAuthor(authorName.get()), [])
  const step = (to: MeasureState) => {
    authorName.set(author)
    const event = { state: to, on: on || null, reason: reason || null, author: author || null }
    return sending('POST', `/api/measures/${id}/events`, event, () => {
      setReason('')
      setOn('')
    })
  }
  return (
    <form aria-label="Next step" onSubmit={(event) => event.preventDefault()}>
      <div className="fields">
        <Field day optional label="On" help="Today where left empty." value={on} onChange={setOn} />
        <Field
          label="Why"
          optional={!next.includes('rejected')}
          help={next.includes('rejected') ? 'Needed to reject.' : undefined}
          value={reason}
          onChange={setReason}
        />
        <Field label="Said by" optional value={author} onChange={setAuthor} />
      </div>
      <Failure text={failure} />
      <div className="actions">
        {next.map((to, k) => (
          <button
            key={to}
            type="button"
            className={to === 'rejected' ? 'danger' : k === 0 ? 'main' : undefined}
            disabled={isBusy}
            onClick={() => step(to)}
          >
            {stepWords(state, to)}
          </button>
        ))}
      </div>
    </form>
  )
}
