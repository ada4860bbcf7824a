'use client'
import Link from 'next/link'
import { useRouter } from 'next/navigation'
import { useState } from 'react'
import type { MachineName } from '@/db/queries/machines'
import { send } from '../api'
import { monthName } from '../format'

/** Chooses what to report of: open the page made for print, or have it made and kept. */
export function ReportMaker({
  months,
  machines,
  hasBrowser,
}: {
  months: readonly string[]
  machines: readonly MachineName[]
  hasBrowser: boolean
}) {
  const first = months.length ? `month ${months[0]}` : machines.length ? `machine ${machines[0].id}` : ''
  const [chosen, setChosen] = useState(first)
  const [failure, setFailure] = useState<string | null>(null)
  const [said, setSaid] = useState('')
  const [isBusy, setBusy] = useState(false)
  const router = useRouter()
  if (!chosen) {
    return (
      <p className="nodata">
        There is nothing to report of yet: <Link href="/upload">upload a log</Link>.
      </p>
    )
  }
  const [kind, subject] = [chosen.split(' ')[0], chosen.slice(chosen.indexOf(' ') + 1)]
  const make = async () => {
    setBusy(true)
    setFailure(null)
    try {
      await send('POST', '/api/reports', { kind, subject })
      setSaid('It is being made and stands below.')
      router.refresh()
    } catch (error) {
      setFailure(error instanceof Error ? error.message : String(error))
    } finally {
      setBusy(false)
    }
  }
  return (
    <>
      <div className="tools">
        <label>
          Of{' '}
          <select value={chosen} onChange={(event) => setChosen(event.target.value)}>
            <optgroup label="Months">
              {months.map((month) => (
                <option key={month} value={`month ${month}`}>
                  {monthName(month)}
                </option>
              ))}
            </optgroup>
            <optgroup label="Machines">
              {machines.map(({ id, name }) => (
                <option key={id} value={`machine ${id}`}>
                  {name}
                </option>
              ))}
            </optgroup>
          </select>
        </label>
        <button type="button" className="main" onClick={make} disabled={isBusy}>
          {hasBrowser ? 'Make PDF and spreadsheet' : 'Make spreadsheet'}
        </button>
        <Link className="button" href={`/reports/${kind}/${encodeURIComponent(subject)}`}>
          Open the page made for print
        </Link>
      </div>
      <p className="small soft" aria-live="polite">
        {said}
      </p>
      {failure ? <p className="error">{failure}</p> : null}
      {hasBrowser ? null : (
        <p className="small soft">
          This server has no browser to make PDFs with: print the page made for print, or have Chromium
          installed.
        </p>
      )}
      <p className="small soft">
        When a month is over, its report is made by itself and kept as it was then, also where tariffs or logs
        change afterwards.
      </p>
    </>
  )
}
