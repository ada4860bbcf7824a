'use client'
import { Field } from '../field'
import { RowList } from '../row-list'
import { DayChecks } from './day-checks'
import { type BandDraft, newBand, newSeason } from './tariff-draft'

const ALL_YEAR = 'All year.'

/** Time-of-use bands: a price on these days between these hours, in the site's own time, all year or in seasons. */
export function BandRows({
  bands,
  place,
  currency,
  dayTypes,
  errors,
  onChange,
}: {
  bands: readonly BandDraft[]
  /** Where they stand in SITE.json, for their errors. */
  place: string
  currency: string
  dayTypes: readonly string[]
  errors: Readonly<Record<string, string>>
  onChange: (bands: readonly BandDraft[]) => void
}) {
  return (
    <fieldset>
      <legend>Time-of-use bands</legend>
      <p className="soft">
        Optional. Outside every band the energy price above holds. A band from 22 to 6 ends on the day after.
      </p>
      <RowList rows={bands} one="band" make={newBand} onChange={onChange}>
        {(band, change, index) => {
          const error = (key: string) => errors[`${place}.${index}.${key}`]
          return (
            <>
              <div className="fields">
                <Field
                  label="Name"
                  value={band.name}
                  error={error('name')}
                  onChange={(name) => change({ name })}
                />
                <Field
                  label="From"
                  unit="h"
                  numeric
                  value={band.fromHour}
                  error={error('fromHour')}
                  onChange={(fromHour) => change({ fromHour })}
                />
                <Field
                  label="To"
                  unit="h"
                  numeric
                  value={band.toHour}
                  error={error('toHour')}
                  onChange={(toHour) => change({ toHour })}
                />
                <Field
                  label="Price"
                  unit={`${currency}/kWh`}
                  numeric
                  value={band.pricePerKWh}
                  error={error('pricePerKWh')}
                  onChange={(pricePerKWh) => change({ pricePerKWh })}
                />
              </div>
              <DayChecks
                of={band.name || `band ${index + 1}`}
                weekdays={band.weekdays}
                dayTypes={band.dayTypes}
                known={dayTypes}
                error={error('weekdays')}
                onChange={change}
              />
              <div className="nested">
                <p className="soft">
                  Seasons:{' '}
                  {band.seasons.length > 0
                    ? 'days of every year, the first and the last among them.'
                    : ALL_YEAR}
                </p>
                <RowList
                  rows={band.seasons}
                  one="season"
                  make={newSeason}
                  onChange={(seasons) => change({ seasons })}
                >
                  {(season, put, nth) => (
                    <div className="fields">
                      <Field
                        label="First day"
                        help="Month and day, as in 11-01."
                        value={season.from}
                        error={error(`seasons.${nth}.from`)}
                        onChange={(from) => put({ from })}
                      />
                      <Field
                        label="Last day"
                        help="As in 03-31; before the first: over new year."
                        value={season.to}
                        error={error(`seasons.${nth}.to`)}
                        onChange={(to) => put({ to })}
                      />
                    </div>
                  )}
                </RowList>
              </div>
            </>
          )
        }}
      </RowList>
    </fieldset>
  )
}
