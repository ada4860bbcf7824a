import { Refresher } from './refresher'

/** In place of the options of a log that is stored and whose options are not. */
export function NoOptionsYet({ isAtWork }: { isAtWork: boolean }) {
  return (
    <div className="note" role="status">
      {isAtWork ? <Refresher /> : null}
      <p>
        {isAtWork
          ? 'Savings are being worked out: every option is replayed on this log. All else on this page is final.'
          : 'Savings are not worked out yet. They are once this log is brought up to date.'}
      </p>
    </div>
  )
}
