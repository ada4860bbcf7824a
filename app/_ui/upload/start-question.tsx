'use client'
import { useId } from 'react'
import { S_PER_HOUR } from '@/lib/units'
import { dateTime } from '../format'

const MS_PER_S = 1000
const MINUTE = 'YYYY-MM-DDTHH:MM'.length
const DAY = 'YYYY-MM-DD'.length
/** A guess further back than this is of a file that was copied about. */
const MOST_DAYS_BACK = 400

/** An instant as the wall clock of this device shows it, as a date entry takes it. */
function wallClock(ms: number): string {
  const at = new Date(ms)
  return new Date(ms - at.getTimezoneOffset() * 60 * MS_PER_S).toISOString().slice(0, MINUTE)
}

/** Asks when a recording began whose rows do not say; that nobody knows is an answer. */
export function StartQuestion({
  onlyDay,
  firstTime,
  durationS,
  lastModified,
  now,
  startedAt,
  isMissing,
  onAnswer,
}: {
  /** True where the rows carry the time of day and only the day is missing. */
  onlyDay: boolean
  firstTime: string | null
  durationS: number
  lastModified: number
  now: number
  startedAt: string | null | undefined
  isMissing: boolean
  onAnswer: (startedAt: string | null | undefined) => void
}) {
  const id = useId()
  const ended = lastModified > 0 && now - lastModified < MOST_DAYS_BACK * 24 * S_PER_HOUR * MS_PER_S
  const guess = wallClock(lastModified - durationS * MS_PER_S).slice(0, onlyDay ? DAY : MINUTE)
  return (
    <fieldset className="question" data-open={startedAt === undefined || startedAt === '' ? true : undefined}>
      <legend>
        {onlyDay
          ? `On which day was this recorded? Its rows say only the time${firstTime ? `, the first ${firstTime}` : ''}.`
          : 'When did the recording start? Its rows count from its beginning and no line says when that was.'}
      </legend>
      <p className="help">
        Without a date its figures stand, but it counts in no month and at no time-of-use price.
      </p>
      <div className="entry">
        <label htmlFor={id}>{onlyDay ? 'Day' : 'First row, on the logger’s clock'}</label>
        <input
          id={id}
          type={onlyDay ? 'date' : 'datetime-local'}
          value={startedAt ?? ''}
          aria-invalid={isMissing ? true : undefined}
          aria-describedby={isMissing ? `${id}-missing` : undefined}
          onChange={(event) => onAnswer(event.target.value || undefined)}
        />
        {ended && startedAt !== guess ? (
          <button type="button" onClick={() => onAnswer(guess)}>
            Take {onlyDay ? guess : guess.replace('T', ', ')}
          </button>
        ) : null}
      </div>
      {ended ? (
        <p className="help">
          The file was last changed on {dateTime(new Date(lastModified), deviceZone())}. If the logger wrote
          it as the recording ended, it began {onlyDay ? 'on' : 'at'} {guess.replace('T', ', ')}.
        </p>
      ) : null}
      <label>
        <input
          type="checkbox"
          checked={startedAt === null}
          onChange={(event) => onAnswer(event.target.checked ? null : undefined)}
        />
        <span>Nobody knows: import it without a date</span>
      </label>
      {isMissing ? (
        <p className="error" id={`${id}-missing`}>
          Enter when it began, or say that nobody knows.
        </p>
      ) : null}
    </fieldset>
  )
}

const deviceZone = () => new Intl.DateTimeFormat().resolvedOptions().timeZone
