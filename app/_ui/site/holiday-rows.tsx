'use client'
import { Field } from '../field'
import { RowList } from '../row-list'
import { type HolidayDraft, newHoliday } from './tariff-draft'

const OWN_TYPE = ''
const COUNTS_AS = [
  ['7', 'a Sunday'],
  ['6', 'a Saturday'],
  ['1', 'a Monday'],
  ['2', 'a Tuesday'],
  ['3', 'a Wednesday'],
  ['4', 'a Thursday'],
  ['5', 'a Friday'],
  [OWN_TYPE, 'a type of its own'],
] as const

/** Days that count as others, for prices and shifts alike. */
export function HolidayRows({
  holidays,
  errors,
  onChange,
}: {
  holidays: readonly HolidayDraft[]
  errors: Readonly<Record<string, string>>
  onChange: (holidays: readonly HolidayDraft[]) => void
}) {
  return (
    <fieldset id="holidays">
      <legend>Holidays and other types of day</legend>
      <p className="soft">
        Days that count as another weekday, or as a type of day of your own, which bands and shifts can then
        name. They hold for prices and shifts alike.
      </p>
      <RowList rows={holidays} one="holiday" make={newHoliday} onChange={onChange}>
        {(row, change, index) => (
          <div className="fields">
            <Field
              label="Date"
              help="As in 2026-12-24, or 12-24 for every year."
              value={row.date}
              error={errors[`holidays.${index}.date`]}
              onChange={(date) => change({ date })}
            />
            <Field label="Name" optional value={row.name} onChange={(name) => change({ name })} />
            <Field
              label="Counts as"
              value={row.weekday}
              choices={COUNTS_AS}
              onChange={(weekday) => change({ weekday })}
            />
            {row.weekday === OWN_TYPE ? (
              <Field
                label="Type of day"
                help="As in bridge day."
                value={row.dayType}
                error={errors[`holidays.${index}.countsAs`]}
                onChange={(dayType) => change({ dayType })}
              />
            ) : null}
          </div>
        )}
      </RowList>
    </fieldset>
  )
}
