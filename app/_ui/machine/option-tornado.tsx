import type { Result } from '@/lib/contract/result'
import { HowList } from '../explain/how-list'
import { rough } from '../format'
import { Scroll } from '../scroll'
import { tornadoRows } from './option-assumptions'
import type { Option } from './option-groups'
import { SwingBar } from './swing-bar'

/** What moves an option's net present value most: a bar for each assumption, with its numbers beside it. */
export function OptionTornado({ option, result, logId }: { option: Option; result: Result; logId: string }) {
  const { rows, least, most } = tornadoRows(option, result.site)
  const centre = option.netPresentValue?.value
  if (!rows.length || centre === undefined) return null
  const { currency } = result.site
  const [widest] = rows
  const turning = rows.filter(({ changesFirst }) => changesFirst).map(({ name }) => name.toLowerCase())
  return (
    <div>
      <h3>What the net present value hangs on</h3>
      <p>
        Most on {widest.name.toLowerCase()}: from {rough(widest.low)} {currency} at {widest.lowAt} to{' '}
        {rough(widest.high)} {currency} at {widest.highAt}.{' '}
        {turning.length
          ? `Another option may be worth most with another ${turning.join(', or another ')}.`
          : 'None of these alone changes which option is worth most.'}
      </p>
      <Scroll label="What the net present value hangs on">
        <table>
          <caption className="sr">
            Net present value with each assumption alone at either end of its 95 % interval, {currency}
          </caption>
          <thead>
            <tr>
              <th scope="col">Assumption</th>
              <th scope="col" className="num">
                Low <span className="unit">{currency}</span>
              </th>
              <th scope="col">at</th>
              <th scope="col">
                <span className="sr">Swing</span>
              </th>
              <th scope="col" className="num">
                High <span className="unit">{currency}</span>
              </th>
              <th scope="col">at</th>
              <th scope="col">Worth most then</th>
            </tr>
          </thead>
          <tbody>
            {rows.map((row) => (
              <tr key={row.figure}>
                <th scope="row">{row.name}</th>
                <td className="num">{rough(row.low)}</td>
                <td className="nowrap">{row.lowAt}</td>
                <td>
                  <SwingBar low={row.low} high={row.high} centre={centre} least={least} most={most} />
                </td>
                <td className="num">{rough(row.high)}</td>
                <td className="nowrap">{row.highAt}</td>
                <td>{row.changesFirst ? 'may be another' : 'the same'}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </Scroll>
      <details className="twin">
        <summary>How these are reached</summary>
        <p className="soft">
          Each assumption alone is moved to either end of its 95 % interval. What holds for the whole site
          moves every option at once when it is asked which is worth most.
        </p>
        <HowList
          logId={logId}
          label="Swings of the net present value"
          rows={rows.map(({ figure, name, low, high }) => ({
            name: `${name}: swing`,
            figure,
            unit: currency,
            text: rough(high - low),
          }))}
        />
      </details>
    </div>
  )
}
