'use client'

/** Some of several, each with a box of its own. */
export function CheckList<Value extends string | number>({
  legend,
  isLegendShown = false,
  choices,
  chosen,
  error,
  onChange,
}: {
  legend: string
  isLegendShown?: boolean
  choices: readonly (readonly [Value, string])[]
  chosen: readonly Value[]
  error?: string
  onChange: (chosen: readonly Value[]) => void
}) {
  return (
    <fieldset className="checks" aria-invalid={error ? true : undefined}>
      <legend className={isLegendShown ? undefined : 'sr'}>{legend}</legend>
      {choices.map(([value, name]) => (
        <label key={value}>
          <input
            type="checkbox"
            checked={chosen.includes(value)}
            aria-invalid={error ? true : undefined}
            onChange={(event) =>
              onChange(
                choices.flatMap(([other]) =>
                  (other === value ? event.target.checked : chosen.includes(other)) ? [other] : [],
                ),
              )
            }
          />{' '}
          {name}
        </label>
      ))}
      {error ? <p className="error">{error}</p> : null}
    </fieldset>
  )
}
