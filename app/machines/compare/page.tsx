import type { Metadata } from 'next'
import Link from 'next/link'
import { database } from '@/app/_server/database'
import { LEAST_COMPARED, MOST_COMPARED } from '@/app/_server/views/compared'
import { idsToCompare, overlayView } from '@/app/_server/views/overlay-view'
import { Overlay } from '@/app/_ui/machines/overlay'
import { PageHead } from '@/app/_ui/page-head'

export const dynamic = 'force-dynamic'
export const metadata: Metadata = { title: 'Machines laid over one another' }

interface Props {
  searchParams: Promise<{ ids?: string }>
}

/** Two to four machines laid over one another: duty, phases, account and options of their latest logs. */
export default async function OverlayPage({ searchParams }: Props) {
  const ids = idsToCompare((await searchParams).ids)
  const view = ids && (await overlayView(await database(), ids))
  return (
    <>
      <PageHead
        title="Machines laid over one another"
        about={view?.machines.map(({ name }) => name).join(', ') || undefined}
      >
        <Link className="button" href="/machines">
          Choose others
        </Link>
      </PageHead>
      {view?.missing.length ? (
        <div className="note warn">
          <p>Not there, or without a log that was analysed: {view.missing.join(', ')}.</p>
        </div>
      ) : null}
      {view && view.machines.length >= LEAST_COMPARED ? (
        <Overlay view={view} />
      ) : (
        <div className="sheet empty">
          <h2>
            Choose {LEAST_COMPARED} to {MOST_COMPARED} machines with logs
          </h2>
          <p>
            Tick them in the <Link href="/machines">list of machines</Link>.
          </p>
        </div>
      )}
    </>
  )
}
