'use client'
import { CheckList } from '../check-list'

export const WEEKDAYS = [
  [1, 'Mon'],
  [2, 'Tue'],
  [3, 'Wed'],
  [4, 'Thu'],
  [5, 'Fri'],
  [6, 'Sat'],
  [7, 'Sun'],
] as const

/** Weekdays, and types of day that holidays make. */
export function DayChecks({
  of,
  weekdays,
  dayTypes,
  known,
  error,
  onChange,
}: {
  /** Whose days they are. */
  of: string
  weekdays: readonly number[]
  dayTypes: readonly string[]
  known: readonly string[]
  error?: string
  onChange: (days: { weekdays?: readonly number[]; dayTypes?: readonly string[] }) => void
}) {
  const types = [...new Set([...known, ...dayTypes])]
  return (
    <>
      <CheckList<number>
        legend={`Days of ${of}`}
        choices={WEEKDAYS}
        chosen={weekdays}
        error={error && 'Choose at least one day.'}
        onChange={(next) => onChange({ weekdays: next })}
      />
      {types.length > 0 ? (
        <CheckList<string>
          legend="Types of day"
          isLegendShown
          choices={types.map((type) => [type, type] as const)}
          chosen={dayTypes}
          onChange={(next) => onChange({ dayTypes: next })}
        />
      ) : null}
    </>
  )
}
