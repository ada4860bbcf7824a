import type { Metadata } from 'next'
import Link from 'next/link'
import { database } from '@/app/_server/database'
import { uploadView } from '@/app/_server/views/upload-view'
import { PageHead } from '@/app/_ui/page-head'
import { StoredLogs } from '@/app/_ui/upload/stored-logs'
import { UploadPanel } from '@/app/_ui/upload/upload-panel'

export const dynamic = 'force-dynamic'
export const metadata: Metadata = { title: 'Upload' }

/** Logs come in here. */
export default async function UploadPage({ searchParams }: { searchParams: Promise<{ machine?: string }> }) {
  const view = await uploadView(await database(), (await searchParams).machine)
  return (
    <>
      <PageHead title="Upload logs" about="Nothing is stored before you say so" />
      {view.machines.length ? (
        <>
          <UploadPanel machines={view.machines} machineId={view.machineId} timeZone={view.timeZone} />
          {view.machineId ? (
            <StoredLogs machineId={view.machineId} logs={view.logs} timeZone={view.timeZone} />
          ) : null}
        </>
      ) : (
        <div className="sheet empty">
          <h2>A log belongs to a machine</h2>
          <p>
            <Link href="/machines/new">Set up the machine</Link> that was logged first: its nameplates say
            what the currents and flows mean.
          </p>
        </div>
      )}
    </>
  )
}
