import type { Metadata } from 'next'
import { notFound } from 'next/navigation'
import { database } from '@/app/_server/database'
import { reportOf } from '@/app/_server/reports/report-of'
import { ReportSheet } from '@/app/_ui/reports/report-sheet'

export const dynamic = 'force-dynamic'
export const metadata: Metadata = { title: 'Report' }

interface Props {
  params: Promise<{ id: string }>
}

/** The report of a machine as a page made for print. */
export default async function ReportPage({ params }: Props) {
  const { id } = await params
  const report = await reportOf(await database(), 'machine', id, new Date())
  if (!report) notFound()
  return <ReportSheet report={report} />
}
