import type { DescribedExplanation } from '@/app/_words/describe-explanation'
import { number, percent } from '../format'
import { Scroll } from '../scroll'
import { inUnit, scaleOf, unitText } from './quantity-text'

type Part = DescribedExplanation['intervalParts'][number]

/** What the interval is made of, largest first: half-widths, and each one's share of the variance as a bar. */
export function IntervalParts({ parts, unit }: { parts: readonly Part[]; unit: string }) {
  const most = Math.max(...parts.map((part) => Math.abs(part.shareOfVariance)), Number.EPSILON)
  return (
    <Scroll label="Parts of the interval">
      <table>
        <caption>
          Parts of the interval: their squares add up to its square. A part with a minus is tied to others and
          takes off.
        </caption>
        <thead>
          <tr>
            <th scope="col">From</th>
            <th scope="col" className="num">
              ± 95 % <span className="unit">{unitText(unit)}</span>
            </th>
            <th scope="col" className="num">
              Share of variance
            </th>
            <td className="part-bar" />
          </tr>
        </thead>
        <tbody>
          {parts.map((part) => (
            <tr key={part.source}>
              <th scope="row">
                {part.name}
                {part.column ? <span className="how">{part.column}</span> : null}
              </th>
              <td className="num">{halfText(part, unit)}</td>
              <td className="num">{percent(part.shareOfVariance)}</td>
              <td className="part-bar" aria-hidden="true">
                <span
                  className={part.shareOfVariance < 0 ? 'off' : undefined}
                  style={{ inlineSize: `${(100 * Math.abs(part.shareOfVariance)) / most}%` }}
                />
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </Scroll>
  )
}

/** Both sides where they differ: a part may reach further to one of them. */
function halfText({ below, above, halfWidth }: Part, unit: string): string {
  const isEven = Math.abs(below - above) <= 0.1 * Math.max(Math.abs(below), Math.abs(above))
  if (isEven) return inUnit(halfWidth, unit)
  const side = (value: number) => number(Math.abs(value) * scaleOf(unit), 2)
  return `−${side(below)} / +${side(above)}`
}
