'use client'
import { useId, useState } from 'react'
import type { ProofLogChoice } from '@/app/_server/prove-measure'
import { proofWords } from '@/app/_words/en/proof'
import { ADJUSTMENTS, DRIVERS, type Driver, type ProofSetup } from '@/lib/contract/proof'
import { Field } from '../field'
import { dateTime } from '../format'
import { Scroll } from '../scroll'
import { Failure } from './failure'
import { PiecesEntry } from './pieces-entry'
import { useSending } from './use-sending'

const SIDES = { baseline: 'before', comparison: 'after' } as const
const DRIVER_CHOICES = DRIVERS.map((driver) => [driver, proofWords.drivers[driver]] as const)

/** Which logs are held against which, by what, and what for they are adjusted. */
export function ProofSetupForm({
  id,
  setup,
  logs,
  timeZone,
}: {
  id: string
  setup: ProofSetup
  logs: readonly ProofLogChoice[]
  timeZone: string
}) {
  const [draft, setDraft] = useState(setup)
  const box = useId()
  const { isBusy, failure, sending } = useSending()
  const change = (part: Partial<ProofSetup>) => setDraft({ ...draft, ...part })
  const span = (side: 'baseline' | 'comparison', end: 'from' | 'to') => (day: string) =>
    change({ [side]: { ...draft[side], [end]: day || null } })
  const toggled = <T,>(list: readonly T[], one: T) =>
    list.includes(one) ? list.filter((other) => other !== one) : [...list, one]
  return (
    <form
      aria-label="Which logs are compared, and how"
      onSubmit={(event) => {
        event.preventDefault()
        void sending('PUT', `/api/measures/${id}`, { setup: draft })
      }}
    >
      <div className="fields">
        <Field
          label="Compared by"
          value={draft.driver}
          choices={DRIVER_CHOICES}
          onChange={(driver) => change({ driver: driver as Driver })}
        />
        <Field
          day
          optional
          label="Baseline from"
          value={draft.baseline.from ?? ''}
          onChange={span('baseline', 'from')}
        />
        <Field
          day
          optional
          label="Baseline to"
          help="Else the day before it was installed."
          value={draft.baseline.to ?? ''}
          onChange={span('baseline', 'to')}
        />
        <Field
          day
          optional
          label="Compared from"
          help="Else the day after it was installed."
          value={draft.comparison.from ?? ''}
          onChange={span('comparison', 'from')}
        />
        <Field
          day
          optional
          label="Compared to"
          value={draft.comparison.to ?? ''}
          onChange={span('comparison', 'to')}
        />
      </div>
      <fieldset>
        <legend>Adjusted for, where logged</legend>
        {ADJUSTMENTS.map((name) => (
          <p key={name}>
            <input
              type="checkbox"
              id={`${box}-${name}`}
              checked={draft.adjustments.includes(name)}
              onChange={() => change({ adjustments: toggled(draft.adjustments, name) })}
            />{' '}
            <label htmlFor={`${box}-${name}`}>{proofWords.adjustments[name]}</label>
          </p>
        ))}
      </fieldset>
      <p>
        <input
          type="checkbox"
          id={`${box}-same`}
          checked={draft.sameSensors}
          onChange={() => change({ sameSensors: !draft.sameSensors })}
        />{' '}
        <label htmlFor={`${box}-same`}>
          The same sensors stayed fitted from the first log to the last: their offsets are the same in all
        </label>
      </p>
      <Scroll label="Logs of the machine">
        <table style={{ minInlineSize: '42rem' }}>
          <caption>Logs of this machine; one without its tick counts on neither side.</caption>
          <thead>
            <tr>
              <th scope="col">Counts</th>
              <th scope="col">Log</th>
              <th scope="col">Recorded</th>
              <th scope="col">Side</th>
              <th scope="col" className="num">
                Cycles
              </th>
              <th scope="col">Pieces made</th>
            </tr>
          </thead>
          <tbody>
            {logs.map((log) => (
              <tr key={log.logId}>
                <td>
                  <input
                    type="checkbox"
                    aria-label={`${log.fileName} counts`}
                    checked={!draft.leftOut.includes(log.logId)}
                    onChange={() => change({ leftOut: toggled(draft.leftOut, log.logId) })}
                  />
                </td>
                <th scope="row" className="nowrap">
                  {log.fileName}
                </th>
                <td className="nowrap">{dateTime(log.startedAt, timeZone)}</td>
                <td>{log.side ? SIDES[log.side] : '–'}</td>
                <td className="num">{log.cycles ?? <span className="nodata">no data</span>}</td>
                <td>
                  <PiecesEntry logId={log.logId} name={log.fileName} pieces={log.pieces} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      <Failure text={failure} />
      <div className="actions">
        <button type="submit" className="main" disabled={isBusy}>
          {isBusy ? 'Storing …' : 'Prove it so'}
        </button>
      </div>
    </form>
  )
}
