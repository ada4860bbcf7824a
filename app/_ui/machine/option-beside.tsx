import type { CSSProperties } from 'react'
import { EstimateCell } from '../estimate-cell'
import { estimate, number, percent } from '../format'
import { Scroll } from '../scroll'
import type { Option } from './option-groups'

const PER_CENT = 100

/**
 * What another setting does, in a sentence for those who hear it.
 * @param best the same replay with nothing moved: the two differ by what was moved alone
 */
export function besideText(moved: Option, best: Option): string {
  if (!moved.savedShare)
    return `Cannot be done with these settings. ${moved.reasons.map(({ message }) => message).join(' ')}`
  const points = best.savedShare ? PER_CENT * (moved.savedShare.value - best.savedShare.value) : null
  const size = points === null ? '' : number(Math.abs(points), 2)
  const isSame = !/[1-9]/.test(size)
  const beside = isSame
    ? 'as much as found best'
    : `${size} points ${(points ?? 0) < 0 ? 'less' : 'more'} than found best`
  const payback = moved.paybackYears ? ` Payback ${estimate(moved.paybackYears, 'years')}.` : ''
  const longer = moved.cycleTimeChangeShare
    ? ` Working time changes by ${percent(moved.cycleTimeChangeShare)}.`
    : ''
  const saved = `With these settings ${estimate(moved.savedShare, '%', PER_CENT)} of the input is saved`
  return `${saved}${points === null ? '' : `, ${beside}`}.${payback}${longer}`
}

/** An option as it was found best and as a person set it, figure beside figure. */
export function OptionBeside({ moved, found, currency }: { moved: Option; found: Option; currency: string }) {
  const row = (name: string, unit: string, of: (option: Option) => Option['savedShare'], scale = 1) => (
    <tr key={name}>
      <th scope="row">
        {name} <span className="unit">{unit}</span>
      </th>
      <EstimateCell estimate={of(found)} scale={scale} label="Found best" />
      <EstimateCell estimate={of(moved)} scale={scale} label="As set" />
    </tr>
  )
  return (
    <Scroll label="Found best and as set">
      <table className="beside stacks" style={{ '--figures': 2 } as CSSProperties}>
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
              <td
                className="num"
                key={k === 0 ? 'found' : 'moved'}
                data-label={k === 0 ? 'Found best' : 'As set'}
              >
                {percent(cycleTimeChangeShare).replace(' %', '')}
              </td>
            ))}
          </tr>
        </tbody>
      </table>
    </Scroll>
  )
}
