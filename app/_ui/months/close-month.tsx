'use client'
import { useRouter } from 'next/navigation'
import { useId, useState } from 'react'
import type { MonthView } from '@/app/_server/views/month-view'
import { send } from '../api'
import { Field } from '../field'
import { dateTime, number } from '../format'
import { NumHead } from '../num-head'
import { Scroll } from '../scroll'

/** Whether the month is closed, by whom and why, what later logs would change, and how to close or reopen it. */
export function CloseMonth({
  month,
  monthName,
  closed,
  events,
  timeZone,
  currency,
}: Pick<MonthView, 'month' | 'closed' | 'events'> & {
  monthName: string
  timeZone: string
  currency: string
}) {
  const router = useRouter()
  const [author, setAuthor] = useState('')
  const [note, setNote] = useState('')
  const [said, setSaid] = useState<string | null>(null)
  const [isBusy, setBusy] = useState(false)
  const heading = useId()
  const action = closed ? 'reopened' : 'closed'
  const submit = async () => {
    if (!author.trim() || (closed && !note.trim())) {
      setSaid(closed ? 'Say who opens it again, and why.' : 'Say who closes it.')
      return
    }
    setBusy(true)
    try {
      await send('POST', `/api/months/${month}/events`, { action, author, note: note.trim() || null })
      setSaid(null)
      setNote('')
      router.refresh()
    } catch (error) {
      setSaid(error instanceof Error ? error.message : String(error))
    } finally {
      setBusy(false)
    }
  }
  return (
    <section className="sheet" aria-labelledby={heading}>
      <h2 id={heading}>{closed ? 'This month is closed' : 'Close the month'}</h2>
      {closed ? (
        <p>
          Closed by {closed.author} on {dateTime(closed.at, timeZone)}
          {closed.note ? `: “${closed.note}”` : ''}. The figures are those of that moment.
        </p>
      ) : (
        <p className="soft">
          Closing keeps the figures as they are now. Logs that come later then show here as a difference and
          change nothing until the month is opened again.
        </p>
      )}
      {closed && closed.differences.length > 0 ? (
        <Scroll label="What changed since closing">
          <table>
            <caption>Logs and settings since closing would change these machines’ measured input.</caption>
            <thead>
              <tr>
                <th scope="col">Machine</th>
                <NumHead name="Closed" unit="kWh" />
                <NumHead name="By now" unit="kWh" />
                <NumHead name="Closed" unit={currency} />
                <NumHead name="By now" unit={currency} />
              </tr>
            </thead>
            <tbody>
              {closed.differences.map(({ machineId, name, frozen, now }) => (
                <tr key={machineId}>
                  <th scope="row">{name}</th>
                  <td className="num">{number(frozen?.kWh)}</td>
                  <td className="num">{number(now?.kWh)}</td>
                  <td className="num">{number(frozen?.cost)}</td>
                  <td className="num">{number(now?.cost)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
      ) : null}
      <details key={action}>
        <summary>{closed ? 'Open it again …' : `Close ${monthName} …`}</summary>
        <form
          noValidate
          onSubmit={(event) => {
            event.preventDefault()
            void submit()
          }}
        >
          <div className="fields" style={{ margin: '.5rem 0' }}>
            <Field label="Your name" value={author} onChange={setAuthor} />
            <Field label={closed ? 'Reason' : 'Note'} optional={!closed} value={note} onChange={setNote} />
          </div>
          <button type="submit" className="main" disabled={isBusy}>
            {closed ? `Open ${monthName} again` : `Close ${monthName} with these figures`}
          </button>
          <p className="error" role="status">
            {said}
          </p>
        </form>
      </details>
      {events.length ? (
        <details>
          <summary>What was done to this month</summary>
          <ol>
            {events.map((event) => (
              <li key={event.at}>
                {event.action === 'closed' ? 'Closed' : 'Opened again'} by {event.author},{' '}
                {dateTime(event.at, timeZone)}
                {event.note ? `: “${event.note}”` : ''}
              </li>
            ))}
          </ol>
        </details>
      ) : null}
    </section>
  )
}
