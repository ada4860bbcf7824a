'use client'
import { Field } from '../field'
import { RowList } from '../row-list'
import { DaySpan } from './day-span'
import { newVersion, type TariffDraft, type VersionDraft } from './tariff-draft'
import { TariffFields } from './tariff-fields'

/** Prices with the days they hold on; a new one begins with the bands and charges of the latest. */
export function DatedPrices({
  versions,
  base,
  basePrice,
  currency,
  dayTypes,
  errors,
  onChange,
}: {
  versions: readonly VersionDraft[]
  base: TariffDraft
  basePrice: string
  currency: string
  dayTypes: readonly string[]
  errors: Readonly<Record<string, string>>
  onChange: (versions: readonly VersionDraft[]) => void
}) {
  const latest = [...versions].sort((a, b) => a.from.localeCompare(b.from)).at(-1)
  return (
    <fieldset id="dated-prices">
      <legend>Prices with dates</legend>
      <p className="soft">
        A price that begins on a day changes nothing of the days before it. Of several that hold on a day the
        one that begins last counts; outside of all of them the energy price, bands and charges above hold.
      </p>
      <RowList
        rows={versions}
        one="dated price"
        make={() => newVersion(latest ?? base, latest?.price ?? basePrice)}
        onChange={onChange}
      >
        {(version, change, index) => {
          const place = `tariffs.${index}`
          const isInnerWrong = Object.keys(errors).some((path) =>
            ['bands', 'demand', 'reactive'].some((part) => path.startsWith(`${place}.${part}`)),
          )
          return (
            <>
              <div className="fields">
                <DaySpan
                  span={version}
                  place={place}
                  errors={errors}
                  untilHelp="Left out: until the next begins."
                  onChange={change}
                />
                <Field
                  label="Energy price"
                  unit={`${currency}/kWh`}
                  numeric
                  value={version.price}
                  error={errors[`${place}.energyPricePerKWh`]}
                  onChange={(price) => change({ price })}
                />
                <Field
                  label="Name"
                  optional
                  help="Contract or supplier."
                  value={version.name}
                  error={errors[`${place}.name`]}
                  onChange={(name) => change({ name })}
                />
              </div>
              <details className="nested" open={isInnerWrong || undefined}>
                <summary>
                  Its bands and charges: {version.bands.length || 'no'} bands,{' '}
                  {version.demand.price.trim() ? 'a' : 'no'} demand charge,{' '}
                  {version.reactive.price.trim() ? 'a' : 'no'} power factor charge
                </summary>
                <TariffFields
                  tariff={version}
                  place={place}
                  currency={currency}
                  dayTypes={dayTypes}
                  errors={errors}
                  onChange={change}
                />
              </details>
            </>
          )
        }}
      </RowList>
    </fieldset>
  )
}
