'use client'
import { useId } from 'react'

/** A day of the calendar at the site; empty where none is said. */
export function DayField({
  label,
  help,
  value,
  onChange,
}: {
  label: string
  help?: string
  value: string
  onChange: (day: string) => void
}) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>
        {label} <span className="soft small">(optional)</span>
      </label>
      <div className="entry">
        <input
          id={id}
          type="date"
          value={value}
          aria-describedby={help ? `${id}-help` : undefined}
          onChange={(event) => onChange(event.target.value)}
        />
      </div>
      <div>
        {help ? (
          <p className="help" id={`${id}-help`}>
            {help}
          </p>
        ) : null}
      </div>
    </div>
  )
}
