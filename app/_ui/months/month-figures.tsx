import type { MonthView } from '@/app/_server/views/month-view'
import { Figure } from '../figure'
import { NO_DATA, number, percent, rough } from '../format'
import { DESTINATIONS } from '../streams'
import { type Picked, sumMonth } from './month-sum'

const signed = (value: number) => `${value > 0 ? '+' : ''}${rough(value)}`

/** The month in five figures, measured and scaled kept apart. */
export function MonthFigures({
  site,
  previous,
  picked,
}: {
  site: MonthView['site']
  previous: string | null
  picked: readonly Picked[]
}) {
  const sums = sumMonth(picked)
  const machines = picked.map(({ machine }) => machine)
  const { currency } = site
  const left = sums.missing.length
    ? `Left out where the sensors could not separate it: ${sums.missing.map((kind) => DESTINATIONS[kind].label.toLowerCase()).join(', ')}.`
    : undefined
  const planned = `${number(sums.plannedHours)} planned h = ${number(site.plannedHoursPerYear)} h/yr ÷ 12, for ${machines.length} machines`
  return (
    <div className="figures">
      <Figure
        name="Waste, measured"
        text={number(sums.waste.kWh)}
        unit="kWh"
        explanation={{
          formula:
            'Input while idle + what goes over relief, to tank and into valves outside idle, each with its share of pump and motor loss',
          inputs: machines.map((one) => `${one.name}: ${number(one.summary.measured.runningHours)} h logged`),
          note: left,
        }}
      >
        {percent(sums.waste.kWh / sums.input.kWh)} of {number(sums.input.kWh)} kWh
      </Figure>
      <Figure
        name="It cost, measured"
        text={number(sums.waste.cost)}
        unit={currency}
        explanation={{
          formula: 'Each sample’s waste × the energy price of its hour',
          inputs: [
            site.tariff?.bands.length
              ? `${site.tariff.bands.length} time-of-use bands`
              : `${number(site.energyPricePerKWh)} ${currency}/kWh`,
          ],
          note: left,
        }}
      >
        {number(sums.waste.kgCO2)} kg CO₂
      </Figure>
      <Figure
        name="Whole month, scaled"
        text={sums.wholeWaste ? rough(sums.wholeWaste.cost) : NO_DATA}
        unit={currency}
        explanation={{
          formula: 'Measured + unlogged planned hours at the measured waste per running hour',
          inputs: [planned, `${number(sums.loggedHours)} h logged`],
          note: 'An estimate from what was logged, shown apart from it.',
        }}
      >
        {sums.wholeWaste
          ? `${rough(sums.wholeWaste.kWh)} kWh, ${rough(sums.wholeWaste.kgCO2)} kg CO₂`
          : 'nothing ran'}
      </Figure>
      <Figure
        name="Coverage"
        text={percent(sums.loggedHours / sums.plannedHours)}
        explanation={{
          formula: 'Logged running hours ÷ planned hours of the machines logged',
          inputs: [planned],
        }}
      >
        {number(sums.loggedHours)} h logged
      </Figure>
      <Figure
        name="Waste against the month before"
        text={sums.changeKWh === null ? NO_DATA : signed(sums.changeKWh)}
        unit="kWh"
        explanation={{
          formula: 'Whole month’s waste now − the month before, for machines logged in both',
          note: 'The table splits the change into hours run and energy per hour.',
        }}
      >
        {previous ? 'scaled months compared' : 'no earlier month'}
      </Figure>
    </div>
  )
}
