import Link from 'next/link'
import type { MonthView } from '@/app/_server/views/month-view'
import { count, dateOnly, duration, percent } from '../format'

/** More machines than this are counted, not named. */
const MOST_NAMED = 3

/** What a reader should know before believing the month: coverage, trust, problems of each log. */
export function Quality({ view }: { view: MonthView }) {
  const { machines, unlogged, site } = view
  const thin = machines.filter((machine) => machine.summary.thinCoverage)
  const shares = thin.map((machine) => machine.summary.coverageShare)
  const logs = machines.flatMap((machine) => machine.logs.map((log) => ({ ...log, machine })))
  const suspicious = logs.filter((log) => log.problems.length > 0 || !log.modelTrusted)
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
                  .map((machine) => `${machine.name} (${percent(machine.summary.coverageShare)})`)
                  .join(', ')}
            . Scaled figures stand on thin ground.
          </p>
        </div>
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
                  {log.modelTrusted ? null : (
                    <li>The model is not trusted on this log: see its page for why.</li>
                  )}
                  {[...new Set(log.problems)].map((problem) => (
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
