import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { database } from '@/app/_server/database'
import { setupView } from '@/app/_server/views/setup-view'
import { ConfirmDelete } from '@/app/_ui/confirm-delete'
import { PageHead } from '@/app/_ui/page-head'
import { LayoutsList } from '@/app/_ui/setup/layouts-list'
import { MachineForm } from '@/app/_ui/setup/machine-form'
import { findMachine } from '@/db/queries/machines'

export const dynamic = 'force-dynamic'

interface Props {
  params: Promise<{ id: string }>
  searchParams: Promise<{ log?: string }>
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const machine = await findMachine(await database(), (await params).id)
  return { title: machine ? `${machine.name}: set-up` : 'Set-up' }
}

/** Set-up of one machine. */
export default async function SetupPage({ params, searchParams }: Props) {
  const { id } = await params
  const { log } = await searchParams
  const view = await setupView(await database(), id, log)
  if (!view) notFound()
  const back = `/machines/${id}${log && view.seen?.logId === log ? `?log=${log}` : ''}`
  return (
    <>
      <PageHead title={`${view.name}: set-up`} about={<Link href={back}>Back to its results</Link>}>
        <ConfirmDelete
          path={`/api/machines/${encodeURIComponent(id)}`}
          what={view.name}
          consequence="The machine, all its logs, samples and results will be gone. This cannot be undone."
          then="/machines"
        />
      </PageHead>
      <p className="soft">
        {view.calendar
          ? `Planned hours by the shift calendar “${view.calendar}”. `
          : 'Planned hours: the site’s of a year, for want of a shift calendar. '}
        <Link href="/site#calendars">Shift calendars</Link>
      </p>
      <MachineForm
        id={id}
        machine={view.config}
        line={view.line ?? ''}
        trade={view.trade ?? ''}
        seen={view.seen}
      />
      <LayoutsList layouts={view.layouts} timeZone={view.timeZone} />
    </>
  )
}
