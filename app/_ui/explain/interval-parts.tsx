import type { DescribedExplanation } from '@/app/_words/describe-explanation'
import { percent } from '../format'
import { Scroll } from '../scroll'
import { halfInUnit, unitText } from './quantity-text'
import { type PartLine, tiedTogether } from './tied-parts'

/** Parts below this share of the variance are told together. */
const LEAST_SHARE = 0.01

/** Parts of one kind are told together where one takes off at least this share of the variance. */
const CANCELS_SHARE = 0.05

const isSmall = ({ shareOfVariance }: PartLine) => Math.abs(shareOfVariance) < LEAST_SHARE

/** What the interval is made of, largest first: half-widths, and each one's share of the variance as a bar. */
export function IntervalParts({
  parts: single,
  unit,
}: {
  parts: DescribedExplanation['intervalParts']
  unit: string
}) {
  const parts = tiedTogether(single, CANCELS_SHARE)
  const isJoined = parts.length < single.length
  const most = Math.max(...parts.map((part) => Math.abs(part.shareOfVariance)), Number.EPSILON)
  const small = parts.filter(isSmall)
  const shown = small.length > 1 ? parts.filter((part) => !isSmall(part)) : parts
  const cancels = parts.some((part) => !isSmall(part) && part.shareOfVariance < 0)
  return (
    <>
      <Scroll label="Parts of the interval">
        <table>
          <caption>Parts of the 95 % interval: their squares add up to its square.</caption>
          <thead>
            <tr>
              <th scope="col">From</th>
              <th scope="col" className="num">
                ± <span className="unit">{unitText(unit)}</span>
              </th>
              <th scope="col" className="num">
                Share of variance
              </th>
              <td className="part-bar" />
            </tr>
          </thead>
          <tbody>
            {shown.map((part) => (
              <tr key={part.source}>
                <th scope="row">
                  {part.name}
                  {part.detail ? <span className="how">{part.detail}</span> : null}
                </th>
                <td className="num">{halfText(part, unit)}</td>
                <td className="num">{shareText(part)}</td>
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
      {isJoined ? (
        <p className="small soft">
          Those on one line partly cancel: the log ties them together, so that where one is off, another is
          off the other way.
        </p>
      ) : null}
      {cancels ? (
        <p className="small soft">
          Some of these partly cancel: the log ties them together, so that where one is off, another is off
          the other way. What takes off narrows the interval that the others alone would give, and their
          shares exceed 100 % by as much.
        </p>
      ) : null}
      {small.length > 1 ? (
        <p className="small soft">
          Each less than 1 % of the variance:{' '}
          {small.map(({ source, name }) => (source === 'rest' ? 'others' : lower(name))).join('; ')}.
        </p>
      ) : null}
    </>
  )
}

const lower = (name: string) => name[0].toLowerCase() + name.slice(1)

const shareText = ({ shareOfVariance }: PartLine) =>
  shareOfVariance < 0 ? `takes off ${percent(-shareOfVariance)}` : percent(shareOfVariance)

/** Both sides where they differ: a part may reach further to one of them. */
function halfText({ below, above, halfWidth }: PartLine, unit: string): string {
  const isEven = Math.abs(below - above) <= 0.1 * Math.max(Math.abs(below), Math.abs(above))
  if (isEven) return halfInUnit(Math.abs(halfWidth), unit)
  const sides = [
    ...(below === 0 ? [] : [`−${halfInUnit(Math.abs(below), unit)}`]),
    ...(above === 0 ? [] : [`+${halfInUnit(Math.abs(above), unit)}`]),
  ]
  return sides.join(' / ')
}
