import type { Metadata } from 'next'
import { database } from '@/app/_server/database'
import { reportsView } from '@/app/_server/views/reports-view'
import { PageHead } from '@/app/_ui/page-head'
import { ReportList } from '@/app/_ui/reports/report-list'
import { ReportMaker } from '@/app/_ui/reports/report-maker'

export const dynamic = 'force-dynamic'
export const metadata: Metadata = { title: 'Reports' }

/** Reports that were made, and new ones. */
export default async function ReportsPage() {
  const view = await reportsView(await database())
  return (
    <>
      <PageHead title="Reports" about="Months and machines on paper, for readers who were not there" />
      <section className="sheet" aria-labelledby="make">
        <h2 id="make">Make a report</h2>
        <ReportMaker months={view.months} machines={view.machines} hasBrowser={view.hasBrowser} />
      </section>
      <section className="sheet" aria-labelledby="made">
        <h2 id="made">Made so far</h2>
        <ReportList view={view} />
      </section>
    </>
  )
}
