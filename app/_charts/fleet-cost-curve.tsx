import type { FundingQuery } from '@/app/_server/views/funding-query'
import { number, rough } from '@/app/_ui/format'
import { choiceName } from '@/app/_ui/funding/choice-name'
import { firstOf } from '@/app/_ui/funding/first-of'
import { namesInShort } from '@/app/_ui/long-lists'
import { NumHead } from '@/app/_ui/num-head'
import { Scroll } from '@/app/_ui/scroll'
import type { CostStep } from '@/lib/portfolio/cost-curve'
import { StepCurve } from './step-curve'

/** Cost of each further kWh across the machines, cheapest first, against what a kWh costs now. */
export function FleetCostCurve({
  steps,
  names,
  pricePerKWh,
  currency,
  query,
}: {
  steps: readonly CostStep[]
  names: ReadonlyMap<string, string>
  pricePerKWh: number
  currency: string
  query: FundingQuery
}) {
  const wholeKWh = steps[steps.length - 1].toKWh
  const dear = steps.filter(({ costPerSavedKWh }) => costPerSavedKWh > pricePerKWh)
  const { shown, more } = firstOf(steps, query, 'curve', 'machines')
  const summary = `${steps.length} machines save ${rough(wholeKWh)} kWh a year; a saved kWh costs from ${number(steps[0].costPerSavedKWh)} to ${number(steps[steps.length - 1].costPerSavedKWh)} ${currency}, a bought one ${number(pricePerKWh)} ${currency}`
  return (
    <>
      <p>
        {summary}.{' '}
        {dear.length
          ? `Dearer to save than to buy: ${namesInShort(dear.map(({ machineId }) => names.get(machineId)))}.`
          : 'Every one is cheaper to save than to buy.'}
      </p>
      <StepCurve
        steps={steps.map((step) => ({ ...step, key: step.machineId }))}
        pricePerKWh={pricePerKWh}
        currency={currency}
        summary={summary}
      />
      <details className="twin">
        <summary>As a table</summary>
        <Scroll label="Cost of each further kWh">
          <table>
            <caption>Cheapest kWh first; the numbers stand above the steps</caption>
            <thead>
              <tr>
                <th scope="col">Machine and fixes</th>
                <NumHead name="Saved" unit="kWh/yr" />
                <NumHead name="Cost of a saved kWh" unit={`${currency}/kWh`} />
                <NumHead name="Saved up to here" unit="kWh/yr" />
                <NumHead name="Invested up to here" unit={currency} />
              </tr>
            </thead>
            <tbody>
              {shown.map(({ machineId, choice, fromKWh, toKWh, costPerSavedKWh, spent }, k) => (
                <tr key={machineId}>
                  <th scope="row">
                    {k + 1}. {names.get(machineId)}
                    <span className="how">{choiceName(choice)}</span>
                  </th>
                  <td className="num">{rough(toKWh - fromKWh)}</td>
                  <td className="num">{number(costPerSavedKWh)}</td>
                  <td className="num">{rough(toKWh)}</td>
                  <td className="num">{rough(spent)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </Scroll>
        {more}
      </details>
    </>
  )
}
