import type { FundingView } from '@/app/_server/views/funding-view'
import { entered, percent } from '../format'

/** How the portfolio is found and what its figures rest on. */
export function FundingExplained({ view }: { view: FundingView }) {
  const { site, pricePerKWh, funding } = view
  return (
    <details className="twin">
      <summary>How this is reached</summary>
      <div className="explain">
        <dl>
          <dt>What can be bought</dt>
          <dd>
            the options and sets of options that were replayed on each machine’s latest log, each with its own
            saving; never sums of single options. Every figure opens on the machine’s page.
          </dd>
          <dt>The best portfolio</dt>
          <dd>
            at most one of them for each machine, likely investments together within the budget, highest sum:
            a multiple-choice knapsack, solved {funding.isBest ? 'exactly' : 'until the search was cut short'}{' '}
            (dynamic programming over portfolios that no other beats in both cost and worth, bounded by the
            linear relaxation).
          </dd>
          <dt>Net present value</dt>
          <dd>
            energy and demand charge saved, less upkeep, over each option’s life at{' '}
            {percent(site.discountRate)} interest, less the investment
          </dd>
          <dt>Intervals of sums</dt>
          <dd>
            price (± {percent(site.energyPriceLimitShare)}) and hours of the year (±{' '}
            {percent(site.plannedHoursLimitShare)}) move all machines together, so their parts add up; the
            rest of each interval is its machine’s own and adds in squares
          </dd>
          <dt>Cost of a saved kWh</dt>
          <dd>
            likely investments spread over each option’s life with interest, and upkeep, ÷ kWh saved a year; a
            kWh costs {entered(pricePerKWh)} {site.currency} now, mean over a week of the tariff
          </dd>
          <dt>The next single change</dt>
          <dd>
            one machine’s choice changed for a better one: gain ÷ money needed beyond what is left of the
            budget. Several changes at once may do better; the table of other budgets shows that.
          </dd>
        </dl>
      </div>
    </details>
  )
}
