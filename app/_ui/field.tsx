'use client'
import { useId } from 'react'

/** A labelled entry with unit, help and its error beside it. */
export function Field({
  label,
  unit = '',
  help,
  hint,
  error,
  optional = false,
  value,
  onChange,
  choices,
  numeric = false,
  day = false,
}: {
  label: string
  unit?: string
  help?: string
  /** What stands in where the entry is left empty. */
  hint?: string
  error?: string
  optional?: boolean
  value: string
  onChange: (value: string) => void
  choices?: readonly (readonly [string, string])[]
  numeric?: boolean
  /** A day of the calendar, empty where none is said. */
  day?: boolean
}) {
  const id = useId()
  const shared = {
    id,
    value,
    'aria-invalid': error ? true : undefined,
    'aria-describedby':
      [error ? `${id}-error` : '', hint ? `${id}-hint` : '', help ? `${id}-help` : '']
        .filter(Boolean)
        .join(' ') || undefined,
  }
  return (
    <div className="field">
      <label htmlFor={id}>
        {label} {optional ? <span className="soft small">(optional)</span> : null}
      </label>
      <div className="entry">
        {choices ? (
          <select {...shared} onChange={(event) => onChange(event.target.value)}>
            {choices.map(([key, name]) => (
              <option key={key} value={key}>
                {name}
              </option>
            ))}
          </select>
        ) : (
          <input
            {...shared}
            type={day ? 'date' : undefined}
            inputMode={numeric ? 'decimal' : undefined}
            autoComplete="off"
            onChange={(event) => onChange(event.target.value)}
          />
        )}
        {unit ? <span className="after">{unit}</span> : null}
      </div>
      <div>
        {error ? (
          <p className="error" id={`${id}-error`}>
            {error}
          </p>
        ) : null}
        {hint ? (
          <p className="hint" id={`${id}-hint`}>
            {hint}
          </p>
        ) : null}
        {help ? (
          <p className="help" id={`${id}-help`}>
            {help}
          </p>
        ) : null}
      </div>
    </div>
  )
}
