'use client'
import type { Site } from '@/lib/contract/site'
import { hoursOfStretches, plannedStretches } from '@/lib/economics/planned-time'
import { Field } from '../field'
import { monthName, number } from '../format'
import { RowList } from '../row-list'
import { type CalendarDraft, newCalendar, newException, newWorkDay } from './calendar-draft'
import { DayChecks } from './day-checks'
import { DaySpan } from './day-span'
import { MachineChecks, type MachineOfLine } from './machine-checks'
import { ShiftRows } from './shift-rows'

/** Hours that one calendar plans in a month. */
function plannedHours(site: Site, index: number, month: string): number | null {
  const calendar = site.calendars?.[index]
  if (!calendar) return null
  const alone = { ...site, calendars: [{ ...calendar, machines: undefined }] }
  const stretches = plannedStretches(month, { id: '', name: '' }, alone)
  return stretches && hoursOfStretches(stretches)
}

/** When machines are meant to run: shifts by kind of day, and dates with other shifts or none. */
export function CalendarRows({
  calendars,
  machines,
  dayTypes,
  checked,
  month,
  errors,
  onChange,
}: {
  calendars: readonly CalendarDraft[]
  machines: readonly MachineOfLine[]
  dayTypes: readonly string[]
  /** The whole form where it holds no error. */
  checked: Site | null
  /** The month that hours are shown of. */
  month: string
  errors: Readonly<Record<string, string>>
  onChange: (calendars: readonly CalendarDraft[]) => void
}) {
  return (
    <fieldset id="calendars">
      <legend>Shift calendars</legend>
      <p className="soft">
        When machines are meant to run. A calendar that names machines holds for those, one that names none
        for all others. Without any a month has a twelfth of the year’s planned hours.
      </p>
      <RowList rows={calendars} one="calendar" make={newCalendar} onChange={onChange}>
        {(calendar, change, index) => {
          const place = `calendars.${index}`
          const hours = checked && plannedHours(checked, index, month)
          return (
            <>
              <div className="fields">
                <Field
                  label="Name"
                  value={calendar.name}
                  error={errors[`${place}.name`]}
                  onChange={(name) => change({ name })}
                />
                <DaySpan
                  span={calendar}
                  place={place}
                  errors={errors}
                  fromHelp="Left out: it has always held."
                  onChange={change}
                />
              </div>
              <MachineChecks
                machines={machines}
                chosen={calendar.machines}
                onChange={(next) => change({ machines: next })}
              />
              <fieldset className="nested">
                <legend>Shifts by kind of day</legend>
                <RowList
                  rows={calendar.days}
                  one="kind of day"
                  make={newWorkDay}
                  onChange={(days) => change({ days })}
                >
                  {(day, put, nth) => (
                    <>
                      <DayChecks
                        of={`kind of day ${nth + 1}`}
                        weekdays={day.weekdays}
                        dayTypes={day.dayTypes}
                        known={dayTypes}
                        onChange={put}
                      />
                      <ShiftRows
                        shifts={day.shifts}
                        place={`${place}.days.${nth}.shifts`}
                        errors={errors}
                        onChange={(shifts) => put({ shifts })}
                      />
                    </>
                  )}
                </RowList>
              </fieldset>
              <fieldset className="nested">
                <legend>Exceptions</legend>
                <p className="soft">Dates with other shifts; without a shift they are a shutdown.</p>
                <RowList
                  rows={calendar.exceptions}
                  one="exception"
                  make={newException}
                  onChange={(exceptions) => change({ exceptions })}
                >
                  {(exception, put, nth) => (
                    <>
                      <div className="fields">
                        <DaySpan
                          span={exception}
                          place={`${place}.exceptions.${nth}`}
                          errors={errors}
                          untilHelp="Left out: the one day."
                          onChange={put}
                        />
                        <Field
                          label="Note"
                          optional
                          help="As in summer shutdown."
                          value={exception.note}
                          onChange={(note) => put({ note })}
                        />
                      </div>
                      <ShiftRows
                        shifts={exception.shifts}
                        place={`${place}.exceptions.${nth}.shifts`}
                        errors={errors}
                        onChange={(shifts) => put({ shifts })}
                      />
                    </>
                  )}
                </RowList>
              </fieldset>
              <p role="status">
                {hours === null
                  ? null
                  : `${monthName(month)}: ${number(hours)} planned hours by this calendar, holidays and exceptions seen to.`}
              </p>
            </>
          )
        }}
      </RowList>
    </fieldset>
  )
}
