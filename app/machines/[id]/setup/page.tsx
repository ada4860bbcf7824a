import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { database } from '@/app/_server/database'
import { ConfirmDelete } from '@/app/_ui/confirm-delete'
import { PageHead } from '@/app/_ui/page-head'
import { MachineForm } from '@/app/_ui/setup/machine-form'
import { findMachine } from '@/db/queries/machines'

export const dynamic = 'force-dynamic'

interface Props {
  params: Promise<{ id: string }>
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const machine = await findMachine(await database(), (await params).id)
  return { title: machine ? `${machine.name}: set-up` : 'Set-up' }
}

/** Set-up of one machine. */
export default async function SetupPage({ params }: Props) {
  const { id } = await params
  const machine = await findMachine(await database(), id)
  if (!machine) notFound()
  return (
    <>
      <PageHead
        title={`${machine.name}: set-up`}
        about={<Link href={`/machines/${id}`}>Back to its results</Link>}
      >
        <ConfirmDelete
          path={`/api/machines/${encodeURIComponent(id)}`}
          what={machine.name}
          consequence="The machine, all its logs, samples and results will be gone. This cannot be undone."
          then="/machines"
        />
      </PageHead>
      <MachineForm id={id} machine={machine.config} line={machine.line ?? ''} trade={machine.trade ?? ''} />
    </>
  )
}
