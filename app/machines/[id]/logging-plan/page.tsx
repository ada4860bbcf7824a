import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { database } from '@/app/_server/database'
import { loggingPlanView } from '@/app/_server/views/logging-plan-view'
import { CheckLists } from '@/app/_ui/logging-plan/check-lists'
import { FurtherSensors } from '@/app/_ui/logging-plan/further-sensors'
import { HowLong } from '@/app/_ui/logging-plan/how-long'
import { LoggerSettings } from '@/app/_ui/logging-plan/logger-settings'
import { PlateLine } from '@/app/_ui/logging-plan/plate-line'
import { PrintButton } from '@/app/_ui/logging-plan/print-button'
import { EvidenceSheet, SensorsSheet } from '@/app/_ui/logging-plan/sensors-sheet'
import { Summary } from '@/app/_ui/logging-plan/summary'
import { ToNote } from '@/app/_ui/logging-plan/to-note'
import { VisitsSheet } from '@/app/_ui/logging-plan/visits-sheet'
import { type Asked, readWishes } from '@/app/_ui/logging-plan/wishes'
import { WishesForm } from '@/app/_ui/logging-plan/wishes-form'
import { PageHead } from '@/app/_ui/page-head'
import { findMachine } from '@/db/queries/machines'
import '@/app/_ui/logging-plan/logging-plan.css'

export const dynamic = 'force-dynamic'

interface Props {
  params: Promise<{ id: string }>
  searchParams: Promise<Asked>
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const machine = await findMachine(await database(), (await params).id)
  return { title: machine ? `${machine.name}: logging plan` : 'Logging plan' }
}

/** What a technician takes along to a machine: sensors, ranges, length, safe fitting, what to note. */
export default async function LoggingPlanPage({ params, searchParams }: Props) {
  const { id } = await params
  const asked = await searchParams
  const view = await loggingPlanView(await database(), id, (site) => readWishes(asked, site).wishes)
  if (!view) notFound()
  const { refused } = readWishes(asked, view.site)
  return (
    <div className="plan-page">
      <PageHead
        title={`${view.name}: logging plan`}
        about={<Link href={`/machines/${id}`}>Back to its results</Link>}
      >
        <PrintButton />
      </PageHead>
      <PlateLine machine={view.machine} />
      <WishesForm view={view} refused={refused} />
      <Summary view={view} />
      <SensorsSheet view={view} />
      <FurtherSensors view={view} />
      <HowLong view={view} />
      <VisitsSheet view={view} />
      <LoggerSettings view={view} />
      <CheckLists />
      <EvidenceSheet view={view} />
      <ToNote view={view} />
    </div>
  )
}
