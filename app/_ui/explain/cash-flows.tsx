import type { DescribedExplanation } from '@/app/_words/describe-explanation'
import { rough, tick } from '../format'
import { Scroll } from '../scroll'

/** The flows of money that a figure is made of, year by year. */
export function CashFlows({
  flows,
  currency,
}: {
  flows: DescribedExplanation['cashFlows']
  currency: string
}) {
  return (
    <Scroll label="Cash flows">
      <table>
        <caption>Cash flows in {currency}: the investment now, the saving at each year’s end</caption>
        <thead>
          <tr>
            <th scope="col">Year</th>
            <th scope="col" className="num">
              Flow
            </th>
            <th scope="col" className="num">
              Discount factor
            </th>
            <th scope="col" className="num">
              Worth now
            </th>
          </tr>
        </thead>
        <tbody>
          {flows.map(({ year, flow, discountFactor, presentValue }) => (
            <tr key={year}>
              <th scope="row">{tick(year)}</th>
              <td className="num">{rough(flow)}</td>
              <td className="num">{discountFactor.toFixed(4)}</td>
              <td className="num">{rough(presentValue)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  )
}
