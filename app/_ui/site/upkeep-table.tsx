'use client'
import type { CSSProperties } from 'react'
import { Scroll } from '@/app/_ui/scroll'
import { OPTION_IDS } from '@/lib/contract/result'
import { OPTION_WORDS } from '../labels'
import type { SiteDraft } from './site-draft'

const POINTS = ['low', 'likely', 'high'] as const

/** More upkeep a year of each option, and how long it lasts where that is not as for all. */
export function UpkeepTable({
  upkeep,
  lives,
  siteLife,
  currency,
  errors,
  onChange,
}: {
  upkeep: SiteDraft['upkeep']
  lives: SiteDraft['lives']
  siteLife: string
  currency: string
  errors: Readonly<Record<string, string>>
  onChange: (part: Partial<Pick<SiteDraft, 'upkeep' | 'lives'>>) => void
}) {
  const errorOf = (id: string) =>
    errors[`optionMaintenance.${id}`] ??
    POINTS.map((_, index) => errors[`optionMaintenance.${id}.${index}`]).find(Boolean) ??
    errors[`optionLifetimeYears.${id}`]
  const hasError = OPTION_IDS.some(errorOf)
  return (
    <details className="twin" open={hasError || undefined}>
      <summary>Upkeep and life of the options</summary>
      <p className="soft">
        How much more an option costs to keep each year than now (less, with a minus), and its life where that
        is not {siteLife || 'the life'} years as for all. Left empty: no change.
      </p>
      <Scroll label="Upkeep and life by option">
        <table className="stacks" style={{ '--figures': 4 } as CSSProperties}>
          <caption className="sr">Change of upkeep a year, {currency}, and life, years, by option</caption>
          <thead>
            <tr>
              <th scope="col">Option</th>
              {POINTS.map((point) => (
                <th scope="col" className="num" key={point}>
                  {point} <span className="unit">{currency}/yr</span>
                </th>
              ))}
              <th scope="col" className="num">
                Life <span className="unit">years</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {OPTION_IDS.map((id) => {
              const error = errorOf(id)
              const { title } = OPTION_WORDS[id]
              return (
                <tr key={id}>
                  <th scope="row">
                    {title}
                    {error ? <p className="error">{error}</p> : null}
                  </th>
                  {POINTS.map((point, index) => (
                    <td className="num" key={point} data-label={`${point}, ${currency}/yr`}>
                      <input
                        inputMode="decimal"
                        size={8}
                        style={{ textAlign: 'right' }}
                        aria-label={`${title}, upkeep ${point}, ${currency} a year`}
                        aria-invalid={error ? true : undefined}
                        value={upkeep[id]?.[index] ?? ''}
                        onChange={(event) => {
                          const now = upkeep[id] ?? ['', '', '']
                          const next = POINTS.map((_, nth) => (nth === index ? event.target.value : now[nth]))
                          onChange({ upkeep: { ...upkeep, [id]: [next[0], next[1], next[2]] } })
                        }}
                      />
                    </td>
                  ))}
                  <td className="num" data-label="Life, years">
                    <input
                      inputMode="decimal"
                      size={5}
                      style={{ textAlign: 'right' }}
                      aria-label={`${title}, life in years`}
                      aria-invalid={error ? true : undefined}
                      value={lives[id] ?? ''}
                      onChange={(event) => onChange({ lives: { ...lives, [id]: event.target.value } })}
                    />
                  </td>
                </tr>
              )
            })}
          </tbody>
        </table>
      </Scroll>
    </details>
  )
}
