'use client'
import { useEffect, useState } from 'react'
import { Field } from '../field'
import { Failure } from '../measures/failure'
import { useSending } from '../measures/use-sending'
import { numberOf } from '../setup/typed-number'
import { authorName } from '../upload/author-name'

const EMPTY = { serialNumber: '', certificateNumber: '', certificateDate: '', zeroReading: '' }

/** Hands in what an auditor asks of a sensor, once the log is stored: added to what was said, never in its place. */
export function AddEvidence({
  logId,
  sensors,
}: {
  logId: string
  sensors: readonly { readonly column: string; readonly unit: string }[]
}) {
  const [column, setColumn] = useState(sensors[0]?.column ?? '')
  const [said, setSaid] = useState(EMPTY)
  const [author, setAuthor] = useState('')
  const [isAdded, setAdded] = useState(false)
  const { isBusy, failure, sending } = useSending()
  useEffect(() => setAuthor(authorName.get()), [])
  const zero = said.zeroReading === '' ? undefined : numberOf(said.zeroReading)
  const isNumber = zero === undefined || (typeof zero === 'number' && Number.isFinite(zero))
  const isFilled = Object.values(said).some((text) => text.trim() !== '')
  const isReady = isFilled && isNumber && author.trim() !== ''
  const say = (part: Partial<typeof EMPTY>) => {
    setAdded(false)
    setSaid({ ...said, ...part })
  }
  const save = () => {
    authorName.set(author)
    const evidence = {
      serialNumber: said.serialNumber.trim() || undefined,
      certificateNumber: said.certificateNumber.trim() || undefined,
      certificateDate: said.certificateDate || undefined,
      zeroReading: zero,
    }
    return sending('POST', `/api/logs/${logId}/evidence`, { column, evidence, author }, () => {
      setSaid(EMPTY)
      setAdded(true)
    })
  }
  const unit = sensors.find((sensor) => sensor.column === column)?.unit ?? ''
  return (
    <details className="twin">
      <summary>Add evidence of a sensor</summary>
      <form
        aria-label="Add evidence of a sensor"
        onSubmit={(event) => {
          event.preventDefault()
          if (isReady) void save()
        }}
      >
        <p className="soft">
          It is kept beside the report with your name and the time. What was said before stays, and no figure
          changes.
        </p>
        <div className="fields">
          <Field
            label="Sensor"
            value={column}
            choices={sensors.map((sensor) => [sensor.column, sensor.column] as const)}
            onChange={setColumn}
          />
          <Field
            label="Serial number"
            optional
            value={said.serialNumber}
            onChange={(serialNumber) => say({ serialNumber })}
          />
          <Field
            label="Certificate"
            optional
            value={said.certificateNumber}
            onChange={(certificateNumber) => say({ certificateNumber })}
          />
          <Field
            label="Certified on"
            optional
            day
            value={said.certificateDate}
            onChange={(certificateDate) => say({ certificateDate })}
          />
          <Field
            label="Reading at rest"
            optional
            numeric
            unit={unit === '1' ? '' : unit}
            value={said.zeroReading}
            error={isNumber ? undefined : 'Expected a number.'}
            onChange={(zeroReading) => say({ zeroReading })}
          />
          <Field label="Said by" value={author} onChange={setAuthor} />
        </div>
        <Failure text={failure} />
        {isAdded ? <p role="status">Added.</p> : null}
        <div className="actions">
          <button type="submit" className="main" disabled={isBusy || !isReady}>
            {isBusy ? 'Storing …' : 'Add'}
          </button>
        </div>
      </form>
    </details>
  )
}
