import type { Metadata } from 'next'
import Link from 'next/link'
import { database } from '@/app/_server/database'
import { readFundingQuery } from '@/app/_server/views/funding-query'
import { fundingView } from '@/app/_server/views/funding-view'
import { savedViewsOf } from '@/app/_server/views/saved-views'
import { FundingSheets } from '@/app/_ui/funding/funding-sheets'
import { PageHead } from '@/app/_ui/page-head'
import { siteSettings } from '@/db/queries/sites'

export const dynamic = 'force-dynamic'
export const metadata: Metadata = { title: 'Funding' }

interface Props {
  searchParams: Promise<Record<string, string | string[] | undefined>>
}

/** Which fixes to fund across all machines; budget and filters live in the address. */
export default async function FundingPage({ searchParams }: Props) {
  const db = await database()
  const { query, refused } = readFundingQuery(await searchParams, (await siteSettings(db)).budget)
  const view = await fundingView(db, query)
  return (
    <>
      <PageHead
        title="Which fixes to fund"
        about="At most one replayed set for each machine, the best for the money"
      />
      {view.names.size === 0 ? (
        <div className="sheet empty">
          <h2>No machine yet</h2>
          <p>
            <Link href="/machines/new">Set up the first</Link>, then upload a log of it: fixes are judged by
            replaying logs.
          </p>
        </div>
      ) : (
        <FundingSheets view={view} refused={refused} savedViews={await savedViewsOf(db, 'funding')} />
      )}
    </>
  )
}
