import type { FundingView } from '@/app/_server/views/funding-view'
import type { Estimate } from '@/lib/contract/estimate'
import { Figure } from '../figure'
import { count, entered, estimate, percent, rough } from '../format'
import { FIRST_ROWS } from '../long-lists'

/** What the portfolio comes to, with intervals. */
export function FundingFigures({ view }: { view: FundingView }) {
  const { totals, funding, site, free, query, aim, names, pricePerKWh } = view
  const { currency } = site
  const { funded } = funding
  // Hundreds of lines behind each figure are more than the rest of the page; they are there once all are asked for.
  const listed = query.isWhole ? funded : funded.slice(0, FIRST_ROWS)
  const others =
    listed.length < funded.length
      ? [`and ${count(funded.length - listed.length)} more, as listed beneath`]
      : []
  const each = (of: (one: (typeof funded)[number]) => Estimate, unit: string) => [
    ...listed.map((one) => `${names.get(one.machineId)}: ${estimate(of(one), unit)}`),
    ...others,
  ]
  const price = percent(site.energyPriceLimitShare)
  const hours = percent(site.plannedHoursLimitShare)
  return (
    <div className="figures">
      <Figure
        name="Likely investments"
        estimate={totals.investment}
        unit={currency}
        explanation={{
          formula: 'Sum of the likely investments; each machine’s reach from low to high adds in squares',
          inputs: each(({ choice }) => choice.investment, currency),
        }}
      >
        {free === null
          ? 'no budget given'
          : `of ${entered(free)} ${currency}${free === query.budget ? '' : ' left of the budget'}`}
      </Figure>
      <Figure
        name="Net present value"
        estimate={totals.netPresentValue}
        unit={currency}
        explanation={{
          formula:
            'Sum over the machines. Price of energy and hours of the year move all of them together and add up; sensors, models and investments are each machine’s own and add in squares',
          inputs: [
            `price ± ${price}, hours ± ${hours}, both of what the savings are worth (net present value + likely investment)`,
            ...each(({ choice }) => choice.netPresentValue, currency),
          ],
          note: 'Discount rate and life are as the Site page says; they are not in the interval.',
        }}
      >
        {aim === 'worth' ? 'made the most of' : 'not what was made the most of'}
      </Figure>
      <Figure
        name="Energy saved"
        estimate={totals.savedKWhPerYear}
        unit="kWh/yr"
        explanation={{
          formula:
            'Sum over the machines of each set’s replayed saving; the hours of the year move all of them together',
          inputs: [`hours ± ${hours}`, ...each(({ choice }) => choice.savedKWhPerYear, 'kWh/yr')],
        }}
      >
        {aim === 'energy' ? 'made the most of' : `at ${entered(pricePerKWh)} ${currency}/kWh on average`}
      </Figure>
      <Figure
        name="CO₂ saved"
        estimate={totals.savedKWhPerYear}
        scale={site.emissionKgPerKWh}
        unit="kg/yr"
        explanation={{
          formula: 'Energy saved × emission factor',
          inputs: [`${entered(site.emissionKgPerKWh)} kg/kWh`],
        }}
      />
      <Figure
        name="Machines"
        text={count(funded.length)}
        explanation={{
          formula: 'Machines that get a set, of all that were looked at',
          inputs: [...listed.map(({ machineId }) => names.get(machineId) ?? machineId), ...others],
        }}
      >
        of {count(funded.length + funding.leftOut.length)} looked at
        {funding.isBest
          ? ''
          : `; the search was cut short: the best is no more than ${rough(funding.worthAtMost)}`}
      </Figure>
    </div>
  )
}
