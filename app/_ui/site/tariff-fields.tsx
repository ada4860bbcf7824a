'use client'
import { Field } from '../field'
import { BandRows } from './band-rows'
import type { TariffDraft } from './tariff-draft'

/** Bands, demand charge and power factor charge: of the site, or of a price with dates. */
export function TariffFields({
  tariff,
  place,
  currency,
  dayTypes,
  errors,
  onChange,
}: {
  tariff: TariffDraft
  /** Where it stands in SITE.json, for its errors. */
  place: string
  currency: string
  dayTypes: readonly string[]
  errors: Readonly<Record<string, string>>
  onChange: (part: Partial<TariffDraft>) => void
}) {
  const { demand, reactive } = tariff
  return (
    <>
      <BandRows
        bands={tariff.bands}
        place={`${place}.bands`}
        currency={currency}
        dayTypes={dayTypes}
        errors={errors}
        onChange={(bands) => onChange({ bands })}
      />
      <fieldset>
        <legend>Demand charge</legend>
        <div className="fields">
          <Field
            label="Price"
            optional
            unit={`${currency}/kW`}
            help="Per kW of the month’s highest mean, and month."
            numeric
            value={demand.price}
            error={errors[`${place}.demand.pricePerKWMonth`]}
            onChange={(price) => onChange({ demand: { ...demand, price } })}
          />
          <Field
            label="Window"
            unit="min"
            help="Over which the mean is taken."
            numeric
            value={demand.window}
            error={errors[`${place}.demand.windowMinutes`]}
            onChange={(window) => onChange({ demand: { ...demand, window } })}
          />
          <Field
            label="Coincidence"
            unit="0–1"
            help="How far a machine’s peak falls together with the site’s."
            numeric
            value={demand.coincidence}
            error={errors[`${place}.demand.coincidenceShare`]}
            onChange={(coincidence) => onChange({ demand: { ...demand, coincidence } })}
          />
        </div>
      </fieldset>
      <fieldset>
        <legend>Power factor charge</legend>
        <div className="fields">
          <Field
            label="Price"
            optional
            unit={`${currency}/kvarh`}
            help="For reactive energy above the free part, where current and power are known."
            numeric
            value={reactive.price}
            error={errors[`${place}.reactive.pricePerKvarh`]}
            onChange={(price) => onChange({ reactive: { ...reactive, price } })}
          />
          <Field
            label="Free part"
            unit="kvarh/kWh"
            help="0.5 is a power factor of 0.894."
            numeric
            value={reactive.free}
            error={errors[`${place}.reactive.freeKvarhPerKWh`]}
            onChange={(free) => onChange({ reactive: { ...reactive, free } })}
          />
        </div>
      </fieldset>
    </>
  )
}
