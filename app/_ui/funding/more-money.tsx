import type { FundingView } from '@/app/_server/views/funding-view'
import { count, entered, rough } from '../format'
import { NumHead } from '../num-head'
import { Scroll } from '../scroll'
import { MachineHead } from '../stacked-table'
import { choiceName } from './choice-name'

/** The best portfolio at other budgets, and which single change the next money would buy. */
export function MoreMoney({ view }: { view: FundingView }) {
  const { elsewhere, funding, site, names, aim, free } = view
  const { currency } = site
  const unit = aim === 'worth' ? currency : 'kWh/yr'
  const [next] = funding.further
  return (
    <>
      {free === null ? (
        <p>Without a budget every machine gets what is best for it: more money buys nothing more.</p>
      ) : next ? (
        <p>
          With {rough(next.extraCost)} {currency} more, {names.get(next.machineId)} could have “
          {choiceName(next.choice)}”{next.instead ? ` instead of “${choiceName(next.instead)}”` : ''}:{' '}
          {rough(next.gain)} {unit} more. No other single change gains more for its money.
        </p>
      ) : (
        <p>More money buys nothing more: every machine has what is best for it.</p>
      )}
      <div className="columns">
        {elsewhere.length ? (
          <Scroll label="The best portfolio at other budgets">
            <table>
              <caption>The best portfolio at other budgets, each found by itself</caption>
              <thead>
                <tr>
                  <NumHead name="Budget" unit={currency} />
                  <NumHead name="Spent" unit={currency} />
                  <NumHead name={aim === 'worth' ? 'Net present value' : 'Saved'} unit={unit} />
                  <th scope="col" className="num">
                    More for the last {currency} <span className="unit">{unit} each</span>
                  </th>
                  <th scope="col" className="num">
                    Machines
                  </th>
                </tr>
              </thead>
              <tbody>
                {elsewhere.map(({ budget, cost, worth, machines }, k) => {
                  const before = elsewhere[k - 1] ?? { budget: 0, worth: 0 }
                  return (
                    <tr key={budget} className={budget === free ? 'total' : undefined}>
                      <th scope="row" className="num">
                        {entered(budget)}
                      </th>
                      <td className="num">{rough(cost)}</td>
                      <td className="num">{rough(worth)}</td>
                      <td className="num">{rough((worth - before.worth) / (budget - before.budget))}</td>
                      <td className="num">{count(machines)}</td>
                    </tr>
                  )
                })}
              </tbody>
            </table>
          </Scroll>
        ) : null}
        {funding.further.length ? (
          <Scroll label="The next single changes">
            <table>
              <caption>The next single changes, most gain for the extra money first</caption>
              <thead>
                <tr>
                  <th scope="col">Machine and fixes</th>
                  <NumHead name="Extra money" unit={currency} />
                  <NumHead name="Gain" unit={unit} />
                </tr>
              </thead>
              <tbody>
                {funding.further.map(({ machineId, choice, extraCost, gain }) => (
                  <tr key={machineId}>
                    <MachineHead id={machineId} name={names.get(machineId)} part="#options">
                      <span className="how">
                        {choiceName(choice)}
                        {choice.isPlaceholder ? '*' : ''}
                      </span>
                    </MachineHead>
                    <td className="num">{rough(extraCost)}</td>
                    <td className="num">{rough(gain)}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          </Scroll>
        ) : null}
      </div>
    </>
  )
}
