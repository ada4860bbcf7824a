'use client'
import { Scroll } from '@/app/_ui/scroll'
import { OPTION_IDS } from '@/lib/contract/result'
import { OPTION_WORDS } from '../labels'
import type { SiteDraft } from './site-draft'

const POINTS = ['low', 'likely', 'high'] as const

/** Investment of each option, low, likely and high: quotes go here. */
export function CostTable({
  costs,
  currency,
  errors,
  onChange,
}: {
  costs: SiteDraft['costs']
  currency: string
  errors: Readonly<Record<string, string>>
  onChange: (costs: SiteDraft['costs']) => void
}) {
  return (
    <fieldset id="option-costs">
      <legend>What the options cost</legend>
      <p className="soft">
        Parts and fitting, from quotes. Left empty, a shipped placeholder is used and marked as one, and
        options are ranked by energy saved.
      </p>
      <Scroll label="Investment by option">
        <table className="stacks">
          <caption className="sr">Investment by option, {currency}</caption>
          <thead>
            <tr>
              <th scope="col">Option</th>
              {POINTS.map((point) => (
                <th scope="col" className="num" key={point}>
                  {point} <span className="unit">{currency}</span>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {OPTION_IDS.map((id) => {
              const error =
                errors[`optionCosts.${id}`] ??
                POINTS.map((_, index) => errors[`optionCosts.${id}.${index}`]).find(Boolean)
              return (
                <tr key={id}>
                  <th scope="row">
                    {OPTION_WORDS[id].title}
                    {error ? <p className="error">{error}</p> : null}
                  </th>
                  {POINTS.map((point, index) => (
                    <td className="num" key={point} data-label={`${point}, ${currency}`}>
                      <input
                        inputMode="decimal"
                        size={8}
                        style={{ textAlign: 'right' }}
                        aria-label={`${OPTION_WORDS[id].title}, ${point}, ${currency}`}
                        aria-invalid={error ? true : undefined}
                        placeholder="no quote"
                        value={costs[id]?.[index] ?? ''}
                        onChange={(event) => {
                          const now = costs[id] ?? ['', '', '']
                          const next = POINTS.map((_, nth) => (nth === index ? event.target.value : now[nth]))
                          onChange({ ...costs, [id]: [next[0], next[1], next[2]] })
                        }}
                      />
                    </td>
                  ))}
                </tr>
              )
            })}
          </tbody>
        </table>
      </Scroll>
    </fieldset>
  )
}
