'use client'
import { useRouter } from 'next/navigation'
import { useId, useState } from 'react'
import type { MonthColumns } from '@/app/_server/views/shown-machines'
import { send } from '../api'
import { Field } from '../field'
import { count } from '../format'

/** More machines with the same baseline than this are counted, not named. */
const MOST_NAMED = 5

/** Which months each machine is held against, and how to mark others. */
export function Baselines({
  ids,
  names,
  spans,
  spanOf,
  month,
}: Pick<MonthColumns, 'ids' | 'names' | 'spans' | 'spanOf'> & { month: string }) {
  const router = useRouter()
  const heading = useId()
  const [machineId, setMachineId] = useState(ids[0] ?? '')
  const [from, setFrom] = useState(month)
  const [until, setUntil] = useState(month)
  const [author, setAuthor] = useState('')
  const [note, setNote] = useState('')
  const [said, setSaid] = useState<{ text: string; bad: boolean } | null>(null)
  const [isBusy, setBusy] = useState(false)
  const marked = spans.map(({ fromMonth, untilMonth }, place) => {
    const held = names.filter((_, i) => spanOf[i] === place)
    const who = held.length > MOST_NAMED ? `${count(held.length)} machines` : held.join(', ')
    return `${who} ${fromMonth} to ${untilMonth}`
  })
  const mark = async (months: { from: string; until: string } | null) => {
    if (!author.trim()) return setSaid({ text: 'Say who marks it.', bad: true })
    if (months && months.until < months.from)
      return setSaid({ text: `The last month, ${months.until}, lies before the first.`, bad: true })
    setBusy(true)
    try {
      await send('POST', '/api/site/baselines', { machineId, months, author, note: note.trim() || null })
      setSaid({ text: months ? 'Marked.' : 'The mark is gone; it stays in the history.', bad: false })
      router.refresh()
    } catch (error) {
      setSaid({ text: error instanceof Error ? error.message : String(error), bad: true })
    } finally {
      setBusy(false)
    }
  }
  return (
    <section className="sheet" aria-labelledby={heading}>
      <h2 id={heading}>Baselines</h2>
      <p className="soft">
        {marked.length
          ? `Held against: ${marked.join('; ')}.`
          : 'No machine of this month has a baseline: months to hold it against, as they were before a change.'}
      </p>
      <details>
        <summary>Mark a baseline …</summary>
        <div className="fields" style={{ margin: '.5rem 0' }}>
          <Field
            label="Machine"
            value={machineId}
            onChange={setMachineId}
            choices={ids.map((id, i) => [id, names[i]] as const)}
          />
          <Field label="First month" help="Year-month." value={from} onChange={setFrom} />
          <Field label="Last month" help="Year-month." value={until} onChange={setUntil} />
          <Field label="Your name" value={author} onChange={setAuthor} />
          <Field label="Note" optional value={note} onChange={setNote} />
        </div>
        <div className="actions">
          <button type="button" disabled={isBusy} onClick={() => void mark({ from, until })}>
            Mark these months
          </button>
          <button type="button" className="plain" disabled={isBusy} onClick={() => void mark(null)}>
            Take the machine’s mark away
          </button>
        </div>
        <p className={said?.bad ? 'error' : ''} role="status">
          {said?.text}
        </p>
      </details>
    </section>
  )
}
