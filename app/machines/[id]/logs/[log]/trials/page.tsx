import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { database } from '@/app/_server/database'
import { trialsView } from '@/app/_server/views/measures-view'
import { dateTime } from '@/app/_ui/format'
import { TrialForm } from '@/app/_ui/measures/trial-form'
import { TrialsList } from '@/app/_ui/measures/trials-list'
import { PageHead } from '@/app/_ui/page-head'
import { SafetyNote } from '@/app/_ui/safety-note'

export const dynamic = 'force-dynamic'
export const metadata: Metadata = { title: 'Same-day trial' }

interface Props {
  params: Promise<{ id: string; log: string }>
}

/** Cycles before and after a setting was changed by hand, in one log. */
export default async function TrialsPage({ params }: Props) {
  const { id, log } = await params
  const view = await trialsView(await database(), id, log)
  if (!view) notFound()
  return (
    <>
      <PageHead
        title="Same-day trial"
        about={`${view.machineName} · ${view.fileName} · ${dateTime(view.startedAt, view.timeZone)}`}
      >
        <Link className="button" href={`/machines/${id}?log=${log}`}>
          Back to the log
        </Link>
      </PageHead>
      <section className="sheet" aria-labelledby="new-trial">
        <h2 id="new-trial">Say when a setting was changed</h2>
        <p className="soft reading">
          Let the machine work ten cycles, change one setting by hand, let it work ten more, all in one log.
          The same sensors see both sides, so their offsets cancel as far as the machine is in the same state.
        </p>
        <TrialForm logId={log} durationS={view.durationS} measures={view.measures} />
        <SafetyNote />
      </section>
      <section className="sheet" aria-labelledby="trials">
        <h2 id="trials">Trials in this log</h2>
        <TrialsList trials={view.trials} machineId={id} />
      </section>
    </>
  )
}
