'use client'
import { Field } from '../field'
import { RowList } from '../row-list'
import { newShift, type ShiftDraft } from './calendar-draft'

/** Shifts of a day, each on the site's clock. */
export function ShiftRows({
  shifts,
  place,
  errors,
  onChange,
}: {
  shifts: readonly ShiftDraft[]
  /** Where they stand in SITE.json, for their errors. */
  place: string
  errors: Readonly<Record<string, string>>
  onChange: (shifts: readonly ShiftDraft[]) => void
}) {
  return (
    <div className="nested">
      <RowList rows={shifts} one="shift" make={newShift} onChange={onChange}>
        {(shift, change, index) => (
          <div className="fields">
            <Field
              label="Shift"
              optional
              value={shift.name}
              error={errors[`${place}.${index}.name`]}
              onChange={(name) => change({ name })}
            />
            <Field
              label="From"
              unit="h"
              numeric
              value={shift.fromHour}
              error={errors[`${place}.${index}.fromHour`]}
              onChange={(fromHour) => change({ fromHour })}
            />
            <Field
              label="To"
              unit="h"
              help="Not after the first hour: on the day after."
              numeric
              value={shift.toHour}
              error={errors[`${place}.${index}.toHour`]}
              onChange={(toHour) => change({ toHour })}
            />
          </div>
        )}
      </RowList>
    </div>
  )
}
