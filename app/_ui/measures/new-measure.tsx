'use client'
import { useRouter } from 'next/navigation'
import { useEffect, useState } from 'react'
import type { MeasureAnswer } from '@/app/_server/measure-shapes'
import { Field } from '../field'
import { numberOf } from '../setup/typed-number'
import { authorName } from '../upload/author-name'
import { Failure } from './failure'
import { useSending } from './use-sending'

/** A measure that is no option of a log's result: what it is, and what saving a person expects of it. */
export function NewMeasure({ machines }: { machines: readonly { id: string; name: string }[] }) {
  const router = useRouter()
  const [machineId, setMachine] = useState(machines[0]?.id ?? '')
  const [title, setTitle] = useState('')
  const [owner, setOwner] = useState('')
  const [low, setLow] = useState('')
  const [likely, setLikely] = useState('')
  const [high, setHigh] = useState('')
  const [author, setAuthor] = useState('')
  const { isBusy, failure, sending } = useSending()
  useEffect(() => setAuthor(authorName.get()), [])
  const [least, most, greatest] = [low, likely, high].map(numberOf)
  const isEmpty = least === undefined && most === undefined && greatest === undefined
  const isOrdered =
    typeof least === 'number' &&
    typeof most === 'number' &&
    typeof greatest === 'number' &&
    least <= most &&
    most <= greatest
  const error = isEmpty || isOrdered ? undefined : 'Three numbers, low ≤ likely ≤ high, or none.'
  const propose = () => {
    authorName.set(author)
    const expectedKWhPerYear = isEmpty ? null : { low: least, likely: most, high: greatest }
    const wanted = { machineId, title, owner: owner || null, expectedKWhPerYear, author: author || null }
    return sending('POST', '/api/measures', wanted, (answer) =>
      router.push(`/measures/${(answer as MeasureAnswer).id}`),
    )
  }
  return (
    <details className="twin">
      <summary>Propose a measure of your own</summary>
      <form
        aria-label="Propose a measure of your own"
        onSubmit={(event) => {
          event.preventDefault()
          if (title.trim() && !error) void propose()
        }}
      >
        <div className="fields">
          <Field
            label="Machine"
            value={machineId}
            choices={machines.map(({ id, name }) => [id, name] as const)}
            onChange={setMachine}
          />
          <Field label="What is to be done" value={title} onChange={setTitle} />
          <Field label="Owner" optional value={owner} onChange={setOwner} />
          <Field
            label="Saves at least"
            optional
            numeric
            unit="kWh/yr"
            value={low}
            error={error}
            onChange={setLow}
          />
          <Field
            label="Saves most likely"
            optional
            numeric
            unit="kWh/yr"
            value={likely}
            onChange={setLikely}
          />
          <Field label="Saves at most" optional numeric unit="kWh/yr" value={high} onChange={setHigh} />
          <Field label="Said by" optional value={author} onChange={setAuthor} />
        </div>
        <Failure text={failure} />
        <div className="actions">
          <button type="submit" className="main" disabled={isBusy || !title.trim() || Boolean(error)}>
            {isBusy ? 'Storing …' : 'Propose it'}
          </button>
        </div>
      </form>
    </details>
  )
}
