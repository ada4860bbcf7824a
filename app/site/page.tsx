import type { Metadata } from 'next'
import { database } from '@/app/_server/database'
import { PageHead } from '@/app/_ui/page-head'
import { AccessToken } from '@/app/_ui/site/access-token'
import { DatedPrices } from '@/app/_ui/site/dated-prices'
import { SiteForm } from '@/app/_ui/site/site-form'
import { SiteHistory } from '@/app/_ui/site/site-history'
import { listSiteVersions, siteSettings } from '@/db/queries/sites'

export const dynamic = 'force-dynamic'
export const metadata: Metadata = { title: 'Site' }

/** Price, calendar, currency, zone and what options cost. */
export default async function SitePage() {
  const db = await database()
  const site = await siteSettings(db)
  const versions = await listSiteVersions(db)
  return (
    <>
      <PageHead title="Site" about="What energy costs here, how long machines run, and what fixes cost" />
      <SiteForm key={versions[0]?.number ?? 0} site={site} />
      <DatedPrices key={`dated ${versions[0]?.number ?? 0}`} site={site} />
      <SiteHistory
        timeZone={site.timeZone}
        versions={versions.map(({ number, author, reason, correctsPast, at }) => ({
          number,
          author,
          reason,
          correctsPast,
          at: at.toISOString(),
        }))}
      />
      <AccessToken />
    </>
  )
}
