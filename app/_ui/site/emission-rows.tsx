'use client'
import { Field } from '../field'
import { RowList } from '../row-list'
import { DaySpan } from './day-span'
import { type EmissionDraft, newEmission } from './tariff-draft'

/** Emission factors with the days they hold on. */
export function EmissionRows({
  emissions,
  errors,
  onChange,
}: {
  emissions: readonly EmissionDraft[]
  errors: Readonly<Record<string, string>>
  onChange: (emissions: readonly EmissionDraft[]) => void
}) {
  return (
    <fieldset>
      <legend>Emission factors with dates</legend>
      <p className="soft">Optional. Outside of all of them the emission factor above holds.</p>
      <RowList rows={emissions} one="emission factor" make={newEmission} onChange={onChange}>
        {(row, change, index) => (
          <div className="fields">
            <DaySpan span={row} place={`emissions.${index}`} errors={errors} onChange={change} />
            <Field
              label="Factor"
              unit="kg CO₂/kWh"
              numeric
              value={row.factor}
              error={errors[`emissions.${index}.kgPerKWh`]}
              onChange={(factor) => change({ factor })}
            />
          </div>
        )}
      </RowList>
    </fieldset>
  )
}
