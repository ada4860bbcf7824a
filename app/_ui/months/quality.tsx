import Link from 'next/link'
import type { MonthView } from '@/app/_server/views/month-view'
import { count, dateOnly, duration, percent } from '../format'
import { representText } from './represent-text'

/** More machines than this are counted, not named. */
const MOST_NAMED = 3

/** What a reader should know before believing the month: coverage, trust, problems of each log. */
export function Quality({ view }: { view: MonthView }) {
  const { machines, unlogged, site } = view
  const thin = machines.filter((machine) => machine.review.month.thinCoverage)
  const notes = machines.flatMap((machine) => {
    const said = machine.review.represents.notes
      .filter(({ code }) => code !== 'no-calendar')
      .map(representText)
    return said.length > 0 ? [{ machine, said }] : []
  })
  const withoutCalendar = machines.filter(({ review }) =>
    review.represents.notes.some(({ code }) => code === 'no-calendar'),
  ).length
  const shares = thin.map((machine) => machine.review.month.coverageShare)
  const logs = machines.flatMap((machine) => machine.logs.map((log) => ({ ...log, machine })))
  const suspicious = logs.filter((log) => log.problemCount !== 0 || !log.modelTrusted)
  return (
    <section className="sheet" aria-labelledby="quality">
      <h2 id="quality">How far to trust this month</h2>
      {thin.length ? (
        <div className="note warn">
          <p>
            Thin coverage: under a tenth of the planned hours was logged on{' '}
            {thin.length > MOST_NAMED
              ? `${thin.length === machines.length ? 'all' : `${count(thin.length)} of`} ${count(machines.length)} machines (${percent(Math.min(...shares))} to ${percent(Math.max(...shares))}; the table shows each)`
              : thin
                  .map((machine) => `${machine.name} (${percent(machine.review.month.coverageShare)})`)
                  .join(', ')}
            . Scaled figures stand on thin ground.
          </p>
        </div>
      ) : null}
      {notes.length ? (
        <details>
          <summary>
            {count(notes.length)} of {count(machines.length)} machines were not logged as they are meant to
            run
          </summary>
          <ul style={{ marginTop: '.5rem' }}>
            {notes.map(({ machine, said }) => (
              <li key={machine.machineId}>
                <Link href={`/machines/${machine.machineId}`}>{machine.name}</Link>: {said.join('; ')}
              </li>
            ))}
          </ul>
        </details>
      ) : null}
      {withoutCalendar ? (
        <p className="soft">
          {count(withoutCalendar)} of {count(machines.length)} machines are in no shift calendar: their
          planned hours are a twelfth of the year’s, and which shifts the logs stand for is not known.{' '}
          <Link href="/site">Enter shifts</Link>.
        </p>
      ) : null}
      {unlogged.length ? (
        <p className="soft">
          No log this month: {unlogged.map((machine) => machine.name).join(', ')}. They are in none of the
          sums.
        </p>
      ) : null}
      {suspicious.length ? (
        <details>
          <summary>
            {count(suspicious.length)} of {count(logs.length)} logs have something to look at
          </summary>
          <ul style={{ marginTop: '.5rem' }}>
            {suspicious.map((log) => (
              <li key={log.logId}>
                <Link href={`/machines/${log.machine.machineId}?log=${log.logId}`}>
                  {log.machine.name}, {log.fileName}
                </Link>{' '}
                <span className="soft">
                  {dateOnly(log.startedAt, site.timeZone)}, {duration(log.durationS)}
                </span>
                <ul>
                  {log.modelTrusted === false ? (
                    <li>The model is not trusted on this log: see its page for why.</li>
                  ) : null}
                  {log.problemCount === null ? (
                    <li>
                      Analysed by an earlier version: what was wrong with it is told once it is brought up to
                      date.
                    </li>
                  ) : null}
                  {log.problems === null && log.problemCount ? (
                    <li>{count(log.problemCount)} things to look at: see its page.</li>
                  ) : null}
                  {[...new Set(log.problems ?? [])].map((problem) => (
                    <li key={problem}>{problem}</li>
                  ))}
                </ul>
              </li>
            ))}
          </ul>
        </details>
      ) : (
        <p>
          All {count(logs.length)} logs of this month were read without problems, and the model holds on each.
        </p>
      )}
    </section>
  )
}
