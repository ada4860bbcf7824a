import type { ReactNode } from 'react'
import { CAUSES, type Cause } from '@/lib/months/causes'
import { REFERENCES, type Reference } from '@/lib/months/references'
import { monthName } from '../format'
import { Opens } from '../opens'
import { Scroll } from '../scroll'
import { ChangeByMachine } from './change-by-machine'
import { ChangeSumReach } from './change-sum'
import type { MonthSums, Picked } from './month-sum'
import { signed } from './signed'

const REFERENCE_NAMES: Readonly<Record<Reference, string>> = {
  previous: 'the month before',
  lastYear: 'the same month last year',
  baseline: 'the baseline',
}

const CAUSE_NAMES: Readonly<Record<Cause, readonly [string, string]>> = {
  hours: ['Hours run', 'more or fewer running hours, measured and scaled together'],
  duty: ['Duty', 'another mix of idling and kinds of work in a running hour'],
  rate: ['Waste per hour', 'more or less waste in an hour of the same kind of phase'],
  price: ['Price', 'another price of a kWh, by tariff and time of use'],
}

/** What changed the waste shown, against each reference, split so that the parts add up to the change. */
export function ChangeSplitTable({
  changes,
  picked,
  month,
  currency,
}: {
  changes: MonthSums['changes']
  picked: readonly Picked[]
  month: string
  currency: string
}) {
  const opens = (reference: Reference, cause: Cause | null, figure: ReactNode) => (
    <Opens
      title={`${cause ? CAUSE_NAMES[cause][0] : 'Change'} against ${REFERENCE_NAMES[reference]}, ${monthName(month)}`}
      content={() => (
        <ChangeByMachine
          picked={picked}
          reference={reference}
          cause={cause}
          month={month}
          currency={currency}
        />
      )}
    >
      {figure}
    </Opens>
  )
  const known = REFERENCES.filter((reference) => changes[reference])
  if (known.length === 0)
    return (
      <p className="nodata">
        No machine shown was logged in the month before or a year ago, and none has a baseline.
      </p>
    )
  return (
    <Scroll label="What changed">
      <table className="stacks">
        <caption>
          Cost of the whole month’s waste, measured and scaled, in {currency}. The four causes add up to the
          change exactly: each is taken at the mean over every order in which they may have come. How sure a
          cause is by itself is not known: only the change as a whole has an interval.
        </caption>
        <thead>
          <tr>
            <th scope="col">Cause</th>
            {known.map((reference) => (
              <th scope="col" className="num" key={reference}>
                Against {REFERENCE_NAMES[reference]} <span className="unit">{currency}</span>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {CAUSES.map((cause) => (
            <tr key={cause}>
              <th scope="row">
                {CAUSE_NAMES[cause][0]} <span className="soft small">{CAUSE_NAMES[cause][1]}</span>
              </th>
              {known.map((reference) => (
                <td
                  className="num"
                  key={reference}
                  data-label={`Against ${REFERENCE_NAMES[reference]}, ${currency}`}
                >
                  {opens(reference, cause, signed(changes[reference]?.cost.effects[cause] ?? null))}
                </td>
              ))}
            </tr>
          ))}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row">Change</th>
            {known.map((reference) => (
              <td
                className="num"
                key={reference}
                data-label={`Against ${REFERENCE_NAMES[reference]}, ${currency}`}
              >
                {opens(reference, null, signed(changes[reference]?.cost.change ?? null))}
              </td>
            ))}
          </tr>
          <tr>
            <th scope="row">
              In energy <span className="unit">kWh</span>
            </th>
            {known.map((reference) => (
              <td className="num" key={reference} data-label={`Against ${REFERENCE_NAMES[reference]}, kWh`}>
                {opens(reference, null, signed(changes[reference]?.kWh.change ?? null))}
              </td>
            ))}
          </tr>
          <tr>
            <th scope="row">
              95 % interval <span className="soft small">of the change and of that in energy</span>
            </th>
            {known.map((reference) => (
              <td className="num" key={reference} data-label={`Against ${REFERENCE_NAMES[reference]}`}>
                <ChangeSumReach picked={picked} reference={reference} month={month} currency={currency} />
              </td>
            ))}
          </tr>
          <tr>
            <th scope="row">Machines known in both</th>
            {known.map((reference) => (
              <td className="num" key={reference} data-label={`Against ${REFERENCE_NAMES[reference]}`}>
                {changes[reference]?.machines}
              </td>
            ))}
          </tr>
        </tfoot>
      </table>
    </Scroll>
  )
}
