import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { database } from '@/app/_server/database'
import { machineView } from '@/app/_server/views/machine-view'
import { ConfirmDelete } from '@/app/_ui/confirm-delete'
import { LogChooser } from '@/app/_ui/machine/log-chooser'
import { NoResult } from '@/app/_ui/machine/no-result'
import { RefreshNote } from '@/app/_ui/machine/refresh-note'
import { ResultSheets } from '@/app/_ui/machine/result-sheets'
import { PageHead } from '@/app/_ui/page-head'
import { findMachine } from '@/db/queries/machines'

export const dynamic = 'force-dynamic'

interface Props {
  params: Promise<{ id: string }>
  searchParams: Promise<{ log?: string }>
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const machine = await findMachine(await database(), (await params).id)
  return { title: machine?.name ?? 'Machine' }
}

/** One machine: a log of it, from headline to options. */
export default async function MachinePage({ params, searchParams }: Props) {
  const { id } = await params
  const view = await machineView(await database(), id, (await searchParams).log)
  if (!view) notFound()
  const { chosen, result, site } = view
  return (
    <>
      <PageHead title={view.name} about={[view.trade, view.line].filter(Boolean).join(' · ') || undefined}>
        <LogChooser machineId={id} logs={view.logs} chosen={chosen?.id ?? null} timeZone={site.timeZone} />
        <Link className="button" href={`/upload?machine=${id}`}>
          Upload a log
        </Link>
        <Link className="button" href={`/machines/${id}/logging-plan`}>
          Logging plan
        </Link>
        <Link className="button" href={`/machines/${id}/setup`}>
          Set-up
        </Link>
      </PageHead>
      {chosen && result ? (
        <>
          {view.refreshing ? <RefreshNote refresh={view.refresh} /> : null}
          {chosen.failure ? (
            <div className="note warn">
              <p>The figures below could not be brought up to date: {chosen.failure}</p>
            </div>
          ) : null}
          <ResultSheets
            machineId={id}
            logId={chosen.id}
            result={result}
            channels={view.channels}
            corrections={view.corrections}
            correctionsUpToDate={view.correctionsUpToDate}
            revision={view.computedAt ?? ''}
            confirmed={view.config.confirmed ?? null}
            isReplaying={chosen.state === 'replaying'}
          />
          <div className="actions">
            <Link className="button" href={`/machines/${id}/logs/${chosen.id}`}>
              Import report
            </Link>
            <Link className="button" href={`/machines/${id}/logs/${chosen.id}/trials`}>
              Same-day trial
            </Link>
            <a className="button" href={`/api/logs/${chosen.id}/file`}>
              Download the original file
            </a>
            <ConfirmDelete
              path={`/api/logs/${chosen.id}`}
              what="this log"
              consequence={`${chosen.fileName} with its samples and results will be gone.`}
              then={`/machines/${id}`}
            />
          </div>
        </>
      ) : (
        <NoResult machineId={id} chosen={chosen} />
      )}
    </>
  )
}
