'use client'
import { useEffect, useState } from 'react'
import { Field } from '../field'
import { readElapsed, writeElapsed } from '../machine/elapsed-entry'
import { numberOf } from '../setup/typed-number'
import { authorName } from '../upload/author-name'
import { Failure } from './failure'
import { useSending } from './use-sending'

const LEAST = 3

/** Says when a setting was changed by hand while a log ran. */
export function TrialForm({
  logId,
  durationS,
  measures,
}: {
  logId: string
  durationS: number
  measures: readonly { id: string; title: string }[]
}) {
  const [at, setAt] = useState('')
  const [cycles, setCycles] = useState('10')
  const [measureId, setMeasure] = useState('')
  const [note, setNote] = useState('')
  const [author, setAuthor] = useState('')
  const { isBusy, failure, sending } = useSending()
  useEffect(() => setAuthor(authorName.get()), [])
  const atS = readElapsed(at)
  const wanted = numberOf(cycles)
  const isCount = typeof wanted === 'number' && Number.isInteger(wanted) && wanted >= LEAST
  const isInside = atS !== null && atS <= durationS
  const save = () => {
    authorName.set(author)
    const trial = { atS, cycles: wanted, measureId: measureId || null, note: note || null }
    return sending('POST', `/api/logs/${logId}/trials`, { ...trial, author: author || null }, () => {
      setAt('')
      setNote('')
    })
  }
  return (
    <form
      aria-label="Enter a trial"
      onSubmit={(event) => {
        event.preventDefault()
        if (isInside && isCount) void save()
      }}
    >
      <div className="fields">
        <Field
          label="Changed at"
          unit="h:mm:ss"
          help="From the first sample, as the traces on the machine’s page count it."
          value={at}
          error={at && !isInside ? `Expected h:mm:ss up to ${writeElapsed(durationS)}.` : undefined}
          onChange={setAt}
        />
        <Field
          label="Cycles compared on either side"
          numeric
          value={cycles}
          error={isCount ? undefined : `Expected a whole number from ${LEAST} on.`}
          onChange={setCycles}
        />
        <Field
          label="For the measure"
          value={measureId}
          choices={[['', 'none'], ...measures.map(({ id, title }) => [id, title] as const)]}
          onChange={setMeasure}
        />
        <Field label="What was changed" optional value={note} onChange={setNote} />
        <Field label="Said by" optional value={author} onChange={setAuthor} />
      </div>
      <Failure text={failure} />
      <div className="actions">
        <button type="submit" className="main" disabled={isBusy || !isInside || !isCount}>
          {isBusy ? 'Storing …' : 'Compare the cycles'}
        </button>
      </div>
    </form>
  )
}
