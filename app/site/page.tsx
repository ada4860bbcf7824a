import type { Metadata } from 'next'
import { database } from '@/app/_server/database'
import { byName } from '@/app/_ui/name-order'
import { PageHead } from '@/app/_ui/page-head'
import { AccessToken } from '@/app/_ui/site/access-token'
import { SiteForm } from '@/app/_ui/site/site-form'
import { SiteHistory } from '@/app/_ui/site/site-history'
import { versionChanges } from '@/app/_ui/site/version-changes'
import { listMachineNames } from '@/db/queries/machines'
import { listMonths } from '@/db/queries/month-totals'
import { DEFAULT_SITE_ID, listSiteVersions, siteSettings } from '@/db/queries/sites'
import { siteSchema } from '@/lib/contract/site'

export const dynamic = 'force-dynamic'
export const metadata: Metadata = { title: 'Site' }

/** Price, calendar, currency, zone and what options cost. */
export default async function SitePage() {
  const db = await database()
  const site = await siteSettings(db)
  const machines = byName(await listMachineNames(db, DEFAULT_SITE_ID))
  const versions = await listSiteVersions(db)
  return (
    <>
      <PageHead title="Site" about="What energy costs here, how long machines run, and what fixes cost" />
      <SiteForm
        site={site}
        machines={machines.map(({ id, name, line }) => ({ id, name, line }))}
        loggedMonths={await listMonths(db, DEFAULT_SITE_ID)}
        nowMs={Date.now()}
      />
      <SiteHistory
        timeZone={site.timeZone}
        versions={versions.map(({ number, author, reason, correctsPast, at, settings }, i) => ({
          number,
          author,
          reason,
          correctsPast,
          at: at.toISOString(),
          changes: versions[i + 1]
            ? versionChanges(siteSchema.parse(versions[i + 1].settings), siteSchema.parse(settings))
            : null,
        }))}
      />
      <AccessToken />
    </>
  )
}
