'use client'
import { type ReactNode, useId } from 'react'

export interface ChoiceOption {
  readonly value: string
  readonly label: ReactNode
  readonly note?: string
}

/** A question with its readings; none is taken before somebody takes it. */
export function Choice({
  question,
  help,
  options,
  chosen,
  isMissing,
  onChoose,
  children,
}: {
  question: ReactNode
  help?: ReactNode
  options: readonly ChoiceOption[]
  chosen: string | undefined
  /** True where an import was tried without an answer. */
  isMissing: boolean
  onChoose: (value: string) => void
  children?: ReactNode
}) {
  const id = useId()
  return (
    <fieldset className="question" data-open={chosen === undefined ? true : undefined}>
      <legend>{question}</legend>
      {help ? <p className="help">{help}</p> : null}
      {options.map(({ value, label, note }) => (
        <label key={value}>
          <input
            type="radio"
            name={id}
            value={value}
            checked={chosen === value}
            aria-invalid={isMissing ? true : undefined}
            aria-describedby={isMissing ? `${id}-missing` : undefined}
            onChange={() => onChoose(value)}
          />
          <span>
            {label}
            {note ? <span className="soft small"> {note}</span> : null}
          </span>
        </label>
      ))}
      {children}
      {isMissing ? (
        <p className="error" id={`${id}-missing`}>
          Choose one: nothing is guessed.
        </p>
      ) : null}
    </fieldset>
  )
}
