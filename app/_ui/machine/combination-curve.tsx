import { CostCurvePicture } from '@/app/_charts/cost-curve'
import { costCurve } from '@/app/_charts/cost-curve-layout'
import type { Result } from '@/lib/contract/result'
import { HowList } from '../explain/how-list'
import { NO_DATA, number, rough } from '../format'
import { OPTION_WORDS } from '../labels'

/** What each further kWh costs along the best set, drawn and as figures that open. */
export function CombinationCurve({ result, logId }: { result: Result; logId: string }) {
  const { currency } = result.site
  const curve = costCurve(result)
  if (!curve.steps.length) return null
  const dear = curve.steps.filter(
    ({ costPerSavedKWh }) =>
      costPerSavedKWh === null || (curve.pricePerKWh !== null && costPerSavedKWh > curve.pricePerKWh),
  )
  return (
    <div>
      <h3>What each further kWh costs</h3>
      <p>
        {dear.length
          ? `A kWh is dearer to save than to buy with: ${dear.map(({ option }) => OPTION_WORDS[option].title).join(', ')}.`
          : 'With every step a kWh is cheaper to save than to buy.'}{' '}
        Each step counts what it adds to those before it; its investment is spread over its life with
        interest.
      </p>
      <CostCurvePicture curve={curve} currency={currency} />
      <HowList
        logId={logId}
        label="Steps of the cost curve"
        rows={curve.steps.flatMap(({ option, addedKWh, costPerSavedKWh }, k) => [
          {
            name: `${k + 1}. ${OPTION_WORDS[option].title}: cost of a kWh`,
            figure: `marginalCostCurve.${k}.costPerSavedKWh`,
            unit: `${currency}/kWh`,
            text: costPerSavedKWh === null ? NO_DATA : number(costPerSavedKWh),
          },
          {
            name: `${k + 1}. ${OPTION_WORDS[option].title}: saved with cooling, added`,
            figure: `marginalCostCurve.${k}.savedKWhPerYear`,
            unit: 'kWh/yr',
            text: rough(addedKWh),
          },
        ])}
      />
    </div>
  )
}
