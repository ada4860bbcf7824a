import type { Metadata } from 'next'
import Link from 'next/link'
import { notFound } from 'next/navigation'
import { database } from '@/app/_server/database'
import { monthPage } from '@/app/_server/views/month-page'
import { monthName } from '@/app/_ui/format'
import { Baselines } from '@/app/_ui/months/baselines'
import { CloseMonth } from '@/app/_ui/months/close-month'
import { MonthLogs } from '@/app/_ui/months/month-logs'
import { MonthReview } from '@/app/_ui/months/month-review'
import { Quality } from '@/app/_ui/months/quality'
import { PageHead } from '@/app/_ui/page-head'

export const dynamic = 'force-dynamic'

interface Props {
  params: Promise<{ month: string }>
}

export async function generateMetadata({ params }: Props): Promise<Metadata> {
  const { month } = await params
  return { title: /^\d{4}-(0[1-9]|1[0-2])$/.test(month) ? monthName(month) : 'Month' }
}

/** The review of one month: how far to trust it, where energy went, what changed. */
export default async function MonthPage({ params }: Props) {
  const { month } = await params
  if (!/^\d{4}-(0[1-9]|1[0-2])$/.test(month)) notFound()
  const view = await monthPage(await database(), month)
  return (
    <>
      <PageHead title={monthName(month)} about={`${view.site.name} · months in ${view.site.timeZone}`}>
        {view.previous ? (
          <Link className="button" href={`/months/${view.previous}`}>
            <span aria-hidden="true">◀ </span>
            {monthName(view.previous)}
          </Link>
        ) : null}
        {view.next ? (
          <Link className="button" href={`/months/${view.next}`}>
            {monthName(view.next)}
            <span aria-hidden="true"> ▶</span>
          </Link>
        ) : null}
      </PageHead>
      {view.columns.ids.length === 0 ? (
        <div className="sheet empty">
          <h2>No data for this month</h2>
          <p>
            No stored log has a date in {monthName(month)}. <Link href="/upload">Upload one</Link>
            {view.previous ? (
              <>
                {' '}
                or look at <Link href={`/months/${view.previous}`}>{monthName(view.previous)}</Link>
              </>
            ) : null}
            .
          </p>
        </div>
      ) : (
        <>
          {view.closed ? (
            <p className="note" role="status">
              Closed by {view.closed.author}: these are the figures of its closing
              {view.closed.differences.length
                ? `; by now ${view.closed.differences.length} machines would differ, see below`
                : ''}
              .
            </p>
          ) : null}
          <MonthLogs month={month} key={view.closed?.at}>
            <Quality
              quality={view.quality}
              unlogged={view.unlogged}
              timeZone={view.site.timeZone}
              isClosed={view.closed !== null}
            />
            <MonthReview
              month={month}
              site={view.site}
              columns={view.columns}
              previous={view.previous}
              measures={view.measures}
            />
          </MonthLogs>
          <Baselines
            ids={view.columns.ids}
            names={view.columns.names}
            spans={view.columns.spans}
            spanOf={view.columns.spanOf}
            month={month}
          />
          <CloseMonth
            month={month}
            monthName={monthName(month)}
            closed={view.closed}
            events={view.events}
            timeZone={view.site.timeZone}
            currency={view.site.currency}
          />
        </>
      )}
    </>
  )
}
