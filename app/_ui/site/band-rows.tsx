'use client'
import { Field } from '../field'
import type { BandDraft } from './site-draft'

const DAYS = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun']
const WORKDAYS = [1, 2, 3, 4, 5]

/** Time-of-use bands: a price on these days between these hours, in the site's own time. */
export function BandRows({
  bands,
  currency,
  errors,
  onChange,
}: {
  bands: readonly BandDraft[]
  currency: string
  errors: Readonly<Record<string, string>>
  onChange: (bands: readonly BandDraft[]) => void
}) {
  const change = (index: number, part: Partial<BandDraft>) =>
    onChange(bands.map((band, nth) => (nth === index ? { ...band, ...part } : band)))
  return (
    <fieldset>
      <legend>Time-of-use bands</legend>
      <p className="soft">Optional. Outside every band the energy price above holds.</p>
      {bands.map((band, index) => {
        const error = (key: string) => errors[`tariff.bands.${index}.${key}`]
        return (
          <section key={band.key} className="file" aria-label={`Band ${index + 1}`}>
            <div className="fields">
              <Field
                label="Name"
                value={band.name}
                error={error('name')}
                onChange={(name) => change(index, { name })}
              />
              <Field
                label="From"
                unit="h"
                numeric
                value={band.fromHour}
                error={error('fromHour')}
                onChange={(fromHour) => change(index, { fromHour })}
              />
              <Field
                label="To"
                unit="h"
                numeric
                value={band.toHour}
                error={error('toHour')}
                onChange={(toHour) => change(index, { toHour })}
              />
              <Field
                label="Price"
                unit={`${currency}/kWh`}
                numeric
                value={band.pricePerKWh}
                error={error('pricePerKWh')}
                onChange={(pricePerKWh) => change(index, { pricePerKWh })}
              />
            </div>
            <fieldset className="actions" style={{ border: 0, margin: '.5rem 0' }}>
              <legend className="sr">Days of {band.name || `band ${index + 1}`}</legend>
              {DAYS.map((day, nth) => (
                <label key={day}>
                  <input
                    type="checkbox"
                    checked={band.weekdays.includes(nth + 1)}
                    onChange={(event) =>
                      change(index, {
                        weekdays: DAYS.map((_, other) => other + 1).filter((weekday) =>
                          weekday === nth + 1 ? event.target.checked : band.weekdays.includes(weekday),
                        ),
                      })
                    }
                  />{' '}
                  {day}
                </label>
              ))}
            </fieldset>
            {error('weekdays') ? <p className="error">Choose at least one day.</p> : null}
            <button
              type="button"
              className="plain"
              onClick={() => onChange(bands.filter((_, nth) => nth !== index))}
            >
              Remove this band
            </button>
          </section>
        )
      })}
      <button
        type="button"
        onClick={() =>
          onChange([
            ...bands,
            {
              key: `new ${Date.now()}`,
              name: '',
              weekdays: WORKDAYS,
              fromHour: '6',
              toHour: '22',
              pricePerKWh: '',
              kept: {},
            },
          ])
        }
      >
        Add a band
      </button>
    </fieldset>
  )
}
