'use client'
import Link from 'next/link'
import { isSuspicious } from '@/app/_server/views/is-suspicious'
import type { MonthPage } from '@/app/_server/views/month-page'
import { count, dateOnly, duration, percent } from '../format'
import { namesInShort } from '../long-lists'
import { OpenedDetails } from '../opened-details'
import { LogsNotThere, type MonthLogsOf, useMonthLogs } from './month-logs'
import { representText } from './represent-text'

/** What a reader should know before believing the month: coverage, trust, problems of each log. */
export function Quality({
  quality,
  unlogged,
  timeZone,
  isClosed,
}: Pick<MonthPage, 'quality' | 'unlogged'> & { timeZone: string; isClosed: boolean }) {
  const { machines, thin, unlike, withoutCalendar, logs, suspicious, replaying } = quality
  return (
    <section className="sheet" aria-labelledby="quality">
      <h2 id="quality">How far to trust this month</h2>
      {thin ? (
        <div className="note warn">
          <p>
            Thin coverage: under a tenth of the planned hours was logged on{' '}
            {thin.named.length
              ? thin.named.map(({ name, coverageShare }) => `${name} (${percent(coverageShare)})`).join(', ')
              : `${thin.machines === machines ? 'all' : `${count(thin.machines)} of`} ${count(machines)} machines (${percent(thin.leastShare)} to ${percent(thin.mostShare)}; the table shows each)`}
            . Scaled figures stand on thin ground.
          </p>
        </div>
      ) : null}
      {unlike ? (
        <OpenedDetails
          summary={`${count(unlike)} of ${count(machines)} machines ${unlike === 1 ? 'was' : 'were'} not logged as they are meant to run`}
        >
          {() => <Unlike />}
        </OpenedDetails>
      ) : null}
      {withoutCalendar ? (
        <p className="soft">
          {count(withoutCalendar)} of {count(machines)} machines are in no shift calendar: their planned hours
          are a twelfth of the year’s, and which shifts the logs stand for is not known.{' '}
          <Link href="/site">Enter shifts</Link>.
        </p>
      ) : null}
      {unlogged.length ? (
        <p className="soft">
          No log this month: {namesInShort(unlogged.map((machine) => machine.name))}. They are in none of the
          sums.
        </p>
      ) : null}
      {suspicious ? (
        <OpenedDetails summary={`${count(suspicious)} of ${count(logs)} logs have something to look at`}>
          {() => <Suspicious timeZone={timeZone} />}
        </OpenedDetails>
      ) : replaying < logs ? (
        <p>
          {replaying ? `${count(logs - replaying)} of` : 'All'} {count(logs)} logs of this month were read
          without problems, and the model holds on each.
        </p>
      ) : null}
      {replaying ? (
        <p className="soft">
          The options of {replaying === 1 ? 'one log' : `${count(replaying)} logs`}{' '}
          {isClosed
            ? 'were still being replayed when the month was closed: what was wrong with the recording stands on its page.'
            : 'are still being replayed: what was wrong with the recording is told here once they are.'}
        </p>
      ) : null}
    </section>
  )
}

/** What the logs of each machine do not stand for. */
function Unlike() {
  const state = useMonthLogs()
  if (!state || 'why' in state) return <LogsNotThere state={state} />
  const said = [...state.machines.values()].flatMap(({ machineId, name, notes }) => {
    const texts = notes.filter(({ code }) => code !== 'no-calendar').map(representText)
    return texts.length > 0 ? [{ machineId, name, texts }] : []
  })
  return (
    <ul style={{ marginTop: '.5rem' }}>
      {said.map(({ machineId, name, texts }) => (
        <li key={machineId}>
          <Link href={`/machines/${machineId}`}>{name}</Link>: {texts.join('; ')}
        </li>
      ))}
    </ul>
  )
}

/** The logs that have something to look at, and what. */
function Suspicious({ timeZone }: { timeZone: string }) {
  const state = useMonthLogs()
  if (!state || 'why' in state) return <LogsNotThere state={state} />
  const found = [...state.machines.values()].flatMap((machine) =>
    machine.logs.filter(isSuspicious).map((log) => ({ machine, log })),
  )
  return (
    <ul style={{ marginTop: '.5rem' }}>
      {found.map(({ machine, log }) => (
        <li key={log.logId}>
          <Link href={`/machines/${machine.machineId}?log=${log.logId}`}>
            {machine.name}, {log.fileName}
          </Link>{' '}
          <span className="soft">
            {dateOnly(log.startedAt, timeZone)}, {duration(log.durationS)}
          </span>
          <ul>
            <Problems log={log} />
          </ul>
        </li>
      ))}
    </ul>
  )
}

function Problems({ log }: { log: MonthLogsOf['logs'][number] }) {
  return (
    <>
      {log.modelTrusted === false ? (
        <li>The model is not trusted on this log: see its page for why.</li>
      ) : null}
      {log.problemCount === null ? (
        <li>Analysed by an earlier version: what was wrong with it is told once it is brought up to date.</li>
      ) : null}
      {log.problems === null && log.problemCount ? (
        <li>{count(log.problemCount)} things to look at: see its page.</li>
      ) : null}
      {[...new Set(log.problems ?? [])].map((problem) => (
        <li key={problem}>{problem}</li>
      ))}
    </>
  )
}
