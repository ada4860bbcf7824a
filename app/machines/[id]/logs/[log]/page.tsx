import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { database } from '@/app/_server/database'
import { reportView } from '@/app/_server/views/report-view'
import { ImportReportView } from '@/app/_ui/machine/import-report'
import { ReadAgain } from '@/app/_ui/machine/read-again'
import { PageHead } from '@/app/_ui/page-head'

export const dynamic = 'force-dynamic'
export const metadata: Metadata = { title: 'Import report' }

interface Props {
  params: Promise<{ id: string; log: string }>
}

/** What became of one file: kept with its log for ever. */
export default async function ReportPage({ params }: Props) {
  const { id, log } = await params
  const view = await reportView(await database(), id, log)
  if (!view) notFound()
  return (
    <>
      <PageHead title="Import report" about={`${view.fileName}, ${view.machineName}`}>
        <Link className="button" href={`/machines/${id}?log=${log}`}>
          Its result
        </Link>
        {view.parts ? (
          view.parts.map((part, i) => (
            <a className="button" key={part.sha256} href={`/api/logs/${log}/file?part=${i}`}>
              Download {part.fileName}
            </a>
          ))
        ) : (
          <a className="button" href={`/api/logs/${log}/file`}>
            Download the original file
          </a>
        )}
      </PageHead>
      <ImportReportView view={view} />
      <ReadAgain
        machineId={id}
        logId={log}
        reading={view.reading?.reading ?? {}}
        timeZone={view.timeZone}
        receivedAt={view.receivedAt}
      />
    </>
  )
}
