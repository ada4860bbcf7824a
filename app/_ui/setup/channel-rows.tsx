'use client'
import { QUANTITIES, type Quantity } from '@/lib/contract/machine'
import { Field } from '../field'
import { LOCATION_NAMES, LOCATIONS_OF, QUANTITY_NAMES, UNITS_OF } from '../labels'
import { rowKey } from '../row-key'
import { RowList } from '../row-list'
import { type ChannelDraft, EMPTY_CHANNEL } from './draft'

const ACCURACIES = [
  ['none', 'not known (1 % of the largest reading)'],
  ['full-scale', '% of full scale'],
  ['reading', '% of reading'],
] as const

const quantityOf = (text: string): Quantity => QUANTITIES.find((quantity) => quantity === text) ?? 'pressure'

/** The sensors: which column is what, where, in which unit and how accurate. */
export function ChannelRows({
  channels,
  errors,
  onChange,
}: {
  channels: readonly ChannelDraft[]
  errors: Readonly<Record<string, string>>
  onChange: (channels: readonly ChannelDraft[]) => void
}) {
  return (
    <fieldset>
      <legend>Sensors</legend>
      <p className="soft">
        Optional: left out, columns are found from the header of each log. Where a sensor sits decides what it
        means, so state it where you know it.
      </p>
      <RowList
        rows={channels}
        one="sensor"
        make={() => ({ ...EMPTY_CHANNEL, key: rowKey() })}
        onChange={onChange}
      >
        {(channel, change, index) => {
          const quantity = quantityOf(channel.quantity)
          const error = (key: string) => errors[`channels.${index}.${key}`]
          return (
            <div className="fields">
              <Field
                label="Column header"
                value={channel.column}
                error={error('column')}
                help="Exactly as in the log, for example P1 [bar]."
                onChange={(column) => change({ column })}
              />
              <Field
                label="Quantity"
                value={channel.quantity}
                choices={QUANTITIES.map((key) => [key, QUANTITY_NAMES[key]])}
                onChange={(value) => {
                  const next = quantityOf(value)
                  change({ quantity: next, location: LOCATIONS_OF[next][0], unit: UNITS_OF[next][0] })
                }}
              />
              <Field
                label="Location"
                value={channel.location}
                error={error('location')}
                choices={[
                  ['', 'from the header'],
                  ...LOCATIONS_OF[quantity].map((key) => [key, LOCATION_NAMES[key]] as const),
                ]}
                onChange={(location) => change({ location })}
              />
              <Field
                label="Unit"
                value={channel.unit}
                error={error('unit')}
                choices={[
                  ['', 'from the header'],
                  ...UNITS_OF[quantity].map((unit) => [unit, unit] as const),
                ]}
                onChange={(unit) => change({ unit })}
              />
              <Field
                label="Accuracy"
                value={channel.accuracy}
                choices={ACCURACIES}
                error={error('accuracy')}
                onChange={(value) => change({ accuracy: value as ChannelDraft['accuracy'] })}
              />
              {channel.accuracy === 'none' ? null : (
                <Field
                  label="Accuracy limit"
                  unit="%"
                  numeric
                  value={channel.percent}
                  onChange={(percent) => change({ percent })}
                />
              )}
              {channel.accuracy === 'full-scale' ? (
                <Field
                  label="Full scale"
                  unit={channel.unit}
                  numeric
                  value={channel.fullScale}
                  onChange={(fullScale) => change({ fullScale })}
                />
              ) : null}
              <Field
                label="Raw signal from"
                optional
                value={channel.scaleFrom}
                error={error('scale.from') ?? error('scale.from.0') ?? error('scale.from.1')}
                help="Two numbers, for example 4 20 for 4–20 mA."
                onChange={(scaleFrom) => change({ scaleFrom })}
              />
              <Field
                label="Raw signal means"
                optional
                unit={channel.unit}
                value={channel.scaleTo}
                error={error('scale.to') ?? error('scale.to.0') ?? error('scale.to.1')}
                help="Two numbers, for example 0 250."
                onChange={(scaleTo) => change({ scaleTo })}
              />
              <Field
                label="Serial number of the sensor"
                optional
                value={channel.serialNumber}
                error={error('evidence.serialNumber')}
                help="Kept with each log as it is when that is imported, for an auditor."
                onChange={(serialNumber) => change({ serialNumber })}
              />
              <Field
                label="Calibration certificate"
                optional
                value={channel.certificateNumber}
                error={error('evidence.certificateNumber')}
                onChange={(certificateNumber) => change({ certificateNumber })}
              />
              <Field
                label="Date of the certificate"
                optional
                value={channel.certificateDate}
                error={error('evidence.certificateDate')}
                help="As in 2026-03-31."
                onChange={(certificateDate) => change({ certificateDate })}
              />
              <Field
                label="Zero reading at rest"
                optional
                numeric
                unit={channel.unit}
                value={channel.zeroReading}
                error={error('evidence.zeroReading')}
                help="What the sensor shows with nothing to measure."
                onChange={(zeroReading) => change({ zeroReading })}
              />
            </div>
          )
        }}
      </RowList>
    </fieldset>
  )
}
