import Link from 'next/link'

/** What to do while there is nothing to show yet. */
export function FirstSteps({ machineId }: { machineId: string | null }) {
  return (
    <div className="sheet empty">
      <h1>Nothing logged yet</h1>
      <p style={{ marginTop: '.6rem' }}>
        Tankward reads what a logger recorded on a hydraulic power unit and shows where its energy goes, what
        it costs, and which fix pays.
      </p>
      <ol>
        <li>
          {machineId ? (
            'A machine is set up.'
          ) : (
            <>
              <Link href="/machines/new">Set up a machine</Link> from its nameplates.
            </>
          )}
        </li>
        <li>
          <Link href={machineId ? `/upload?machine=${machineId}` : '/upload'}>Upload a log</Link>: pump
          pressure, a flow and the motor’s current or power are enough.
        </li>
        <li>
          <Link href="/site">Check price, hours and zone</Link> of the site.
        </li>
      </ol>
      <p className="soft small">Months appear here once a log with a date is stored.</p>
    </div>
  )
}
