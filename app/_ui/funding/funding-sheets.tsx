import { FleetCostCurve } from '@/app/_charts/fleet-cost-curve'
import type { RefusedEntry } from '@/app/_server/views/funding-query'
import type { FundingView } from '@/app/_server/views/funding-view'
import type { SavedView } from '@/app/_server/views/saved-views'
import { SafetyNote } from '../safety-note'
import { SavedViews } from '../saved-views'
import { Decided } from './decided'
import { FundedTable } from './funded-table'
import { FundingCautions } from './funding-cautions'
import { FundingExplained } from './funding-explained'
import { FundingFigures } from './funding-figures'
import { FundingForm } from './funding-form'
import { LeftOutTable } from './left-out-table'
import { MoreMoney } from './more-money'

/** The portfolio from the budget to the cautions. */
export function FundingSheets({
  view,
  refused,
  savedViews,
}: {
  view: FundingView
  refused: readonly RefusedEntry[]
  savedViews: readonly SavedView[]
}) {
  const { funding, curve, pricePerKWh, site, names, query } = view
  return (
    <>
      <section className="sheet filters screen-only" aria-label="Budget and what is looked at">
        <FundingForm view={view} refused={refused} />
        <SavedViews page="funding" views={savedViews} />
      </section>
      <FundingFigures view={view} />
      <section className="sheet" aria-labelledby="funded">
        <h2 id="funded">To fund</h2>
        <FundedTable view={view} />
      </section>
      <Decided view={view} />
      <section className="sheet" aria-labelledby="curve">
        <h2 id="curve">What each further kWh costs</h2>
        {curve.length ? (
          <FleetCostCurve
            steps={curve}
            names={names}
            pricePerKWh={pricePerKWh}
            currency={site.currency}
            query={query}
          />
        ) : (
          <p className="nodata">Nothing is funded, so there is no curve.</p>
        )}
      </section>
      <section className="sheet" aria-labelledby="more">
        <h2 id="more">What more or less money would buy</h2>
        <MoreMoney view={view} />
      </section>
      <section className="sheet" aria-labelledby="left-out">
        <h2 id="left-out">Left out, and why</h2>
        <LeftOutTable view={view} />
      </section>
      {funding.funded.length ? (
        <section className="sheet" aria-labelledby="cautions">
          <h2 id="cautions">To mind and to confirm before anything is ordered</h2>
          <FundingCautions view={view} />
          <SafetyNote />
        </section>
      ) : null}
      <FundingExplained view={view} />
    </>
  )
}
