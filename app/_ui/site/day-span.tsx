import { Field } from '../field'

/** First and last day of what holds for a time. */
export function DaySpan({
  span,
  place,
  errors,
  fromHelp,
  untilHelp,
  onChange,
}: {
  span: { readonly from: string; readonly until: string }
  /** Where the two stand in the site: their errors have its name before theirs. */
  place: string
  errors: Readonly<Record<string, string>>
  /** What it means to leave the first day out, where that is allowed. */
  fromHelp?: string
  untilHelp?: string
  onChange: (change: { from: string } | { until: string }) => void
}) {
  return (
    <>
      <Field
        label="First day"
        optional={fromHelp !== undefined}
        day
        help={fromHelp}
        value={span.from}
        error={errors[`${place}.from`]}
        onChange={(from) => onChange({ from })}
      />
      <Field
        label="Last day"
        optional
        day
        help={untilHelp}
        value={span.until}
        error={errors[`${place}.until`]}
        onChange={(until) => onChange({ until })}
      />
    </>
  )
}
