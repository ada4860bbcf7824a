import { EstimateCell } from '../estimate-cell'
import { estimate, percent } from '../format'
import { Scroll } from '../scroll'
import type { Option } from './option-groups'

const PER_CENT = 100

/** What another setting does, in a sentence for those who hear it. */
export function besideText(moved: Option, found: Option): string {
  if (!moved.savedShare)
    return `Cannot be done with these settings. ${moved.reasons.map(({ message }) => message).join(' ')}`
  const share = (of: Option) => estimate(of.savedShare, '%', PER_CENT)
  const instead = found.savedShare ? ` instead of ${share(found)}` : ''
  const payback = moved.paybackYears ? ` Payback ${estimate(moved.paybackYears, 'years')}.` : ''
  const longer = moved.cycleTimeChangeShare
    ? ` Working time changes by ${percent(moved.cycleTimeChangeShare)}.`
    : ''
  return `With these settings ${share(moved)} of the input is saved${instead}.${payback}${longer}`
}

/** An option as it was found best and as a person set it, figure beside figure. */
export function OptionBeside({ moved, found, currency }: { moved: Option; found: Option; currency: string }) {
  const row = (name: string, unit: string, of: (option: Option) => Option['savedShare'], scale = 1) => (
    <tr key={name}>
      <th scope="row">
        {name} <span className="unit">{unit}</span>
      </th>
      <EstimateCell estimate={of(found)} scale={scale} />
      <EstimateCell estimate={of(moved)} scale={scale} />
    </tr>
  )
  return (
    <Scroll label="Found best and as set">
      <table className="beside">
        <caption className="sr">The option as found best and as set, with 95 % intervals</caption>
        <thead>
          <tr>
            <th scope="col">Figure</th>
            <th scope="col" className="num">
              Found best
            </th>
            <th scope="col" className="num">
              As set
            </th>
          </tr>
        </thead>
        <tbody>
          {row('Input saved', '%', ({ savedShare }) => savedShare, PER_CENT)}
          {row('Saved', 'kWh/yr', ({ savedKWhPerYear }) => savedKWhPerYear)}
          {row('Saved', `${currency}/yr`, ({ savedMoneyPerYear }) => savedMoneyPerYear)}
          {row('Net present value', currency, ({ netPresentValue }) => netPresentValue)}
          {row('Simple payback', 'years', ({ paybackYears }) => paybackYears)}
          <tr>
            <th scope="row">
              Change of cycle time <span className="unit">%</span>
            </th>
            {[found, moved].map(({ cycleTimeChangeShare }, k) => (
              <td className="num" key={k === 0 ? 'found' : 'moved'}>
                {percent(cycleTimeChangeShare).replace(' %', '')}
              </td>
            ))}
          </tr>
        </tbody>
      </table>
    </Scroll>
  )
}
