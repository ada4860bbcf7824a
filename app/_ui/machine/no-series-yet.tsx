/** In place of what is drawn of the account over time, which is stored with the options. */
export function NoSeriesYet({ isAtWork }: { isAtWork: boolean }) {
  return (
    <p className="nodata" role="status">
      {isAtWork
        ? 'The account sample by sample is still being stored: it is drawn here once the savings are worked out. The figures of the account are final.'
        : 'The account sample by sample is not stored yet: it is drawn here once this log is brought up to date.'}
    </p>
  )
}
