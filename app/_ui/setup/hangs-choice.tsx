'use client'
import type { Machine } from '@/lib/contract/machine'
import { HANGS_ON_PRESSURE } from '@/lib/contract/machine'
import { HANGS_WORDS } from './confirmed-words'

export type Hangs = NonNullable<Machine['confirmed']>['hangsOnPressure']

/** What else hangs on the pressure; none ticked says that a person looked and found nothing. */
export function HangsChoice({ hangs, onChange }: { hangs: Hangs; onChange: (hangs: Hangs) => void }) {
  return (
    <fieldset className="choices">
      <legend>What else hangs on this pressure</legend>
      {HANGS_ON_PRESSURE.map((thing) => (
        <label key={thing}>
          <input
            type="checkbox"
            checked={hangs.includes(thing)}
            onChange={(event) =>
              onChange(
                HANGS_ON_PRESSURE.filter((one) =>
                  one === thing ? event.target.checked : hangs.includes(one),
                ),
              )
            }
          />{' '}
          {HANGS_WORDS[thing]}
        </label>
      ))}
      <p className="help">
        With the fields above filled and nothing ticked: somebody looked and found nothing.
      </p>
    </fieldset>
  )
}
