import type { Metadata } from 'next'
import Link from 'next/link'
import { database } from '@/app/_server/database'
import { compareView } from '@/app/_server/views/compare-view'
import { savedViewsOf } from '@/app/_server/views/saved-views'
import { MachinesTable } from '@/app/_ui/machines/machines-table'
import { PageHead } from '@/app/_ui/page-head'

export const dynamic = 'force-dynamic'
export const metadata: Metadata = { title: 'Machines' }

/** Machines compared on equal terms. */
export default async function MachinesPage() {
  const db = await database()
  const view = await compareView(db)
  const savedViews = await savedViewsOf(db, 'machines')
  return (
    <>
      <PageHead title="Machines" about="Figures of each machine’s latest month with logs">
        <Link className="button main" href="/machines/new">
          New machine
        </Link>
      </PageHead>
      {view.rows.length === 0 ? (
        <div className="sheet empty">
          <h2>No machine yet</h2>
          <p>
            <Link href="/machines/new">Set up the first</Link> from its nameplates: motor, pump and relief
            valve.
          </p>
        </div>
      ) : (
        <div className="sheet">
          <MachinesTable view={view} savedViews={savedViews} />
        </div>
      )}
    </>
  )
}
