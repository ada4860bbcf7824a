import type { Metadata } from 'next'
import { database } from '@/app/_server/database'
import { PageHead } from '@/app/_ui/page-head'
import { AccessToken } from '@/app/_ui/site/access-token'
import { SiteForm } from '@/app/_ui/site/site-form'
import { siteSettings } from '@/db/queries/sites'

export const dynamic = 'force-dynamic'
export const metadata: Metadata = { title: 'Site' }

/** Price, calendar, currency, zone and what options cost. */
export default async function SitePage() {
  const site = await siteSettings(await database())
  return (
    <>
      <PageHead title="Site" about="What energy costs here, how long machines run, and what fixes cost" />
      <SiteForm site={site} />
      <AccessToken />
    </>
  )
}
