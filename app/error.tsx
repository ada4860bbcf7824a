'use client'

/** When a page could not be made: what happened and what can be done. */
export default function ErrorPage({
  error,
  reset,
}: {
  error: Error & { digest?: string }
  reset: () => void
}) {
  return (
    <div className="sheet" role="alert">
      <title>Error · Tankward</title>
      <h1>This page could not be shown</h1>
      <p style={{ marginTop: '.6rem' }}>
        Nothing stored was changed. If the database is held by another process, stop that one and try again;
        the server’s own output says more{error.digest ? ` (mark ${error.digest})` : ''}.
      </p>
      <button type="button" onClick={reset}>
        Try again
      </button>
    </div>
  )
}
