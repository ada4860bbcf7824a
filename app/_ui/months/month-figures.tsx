import type { MonthPage } from '@/app/_server/views/month-page'
import { Figure } from '../figure'
import { count, NO_DATA, number, percent, rough } from '../format'
import { OpenedDetails } from '../opened-details'
import { DESTINATIONS } from '../streams'
import { SourceFiles } from './log-links'
import { type Picked, sumMonth } from './month-sum'
import { withReach } from './reach-text'
import { signed } from './signed'

/** The month in figures, measured and scaled kept apart, each with its interval. */
export function MonthFigures({
  site,
  previous,
  picked,
}: {
  site: MonthPage['site']
  previous: string | null
  picked: readonly Picked[]
}) {
  const sums = sumMonth(picked)
  const machines = picked.map(({ machine }) => machine)
  const { currency } = site
  const left = sums.missing.length
    ? `Left out where the sensors could not separate it: ${sums.missing.map((kind) => DESTINATIONS[kind].label.toLowerCase()).join(', ')}.`
    : undefined
  const planned = (
    <OpenedDetails summary={`Planned and logged hours of ${count(machines.length)} machines`}>
      {() =>
        machines.map(({ machineId, name, review }) => (
          <span key={machineId} className="line">
            {name}: {number(review.month.plannedHours)} h planned,{' '}
            {number(review.month.measured.runningHours)} h logged on {count(review.days)} days
          </span>
        ))
      }
    </OpenedDetails>
  )
  const sources = (
    <OpenedDetails summary={`Logs of ${count(machines.length)} machines`}>
      {() => <SourceFiles machineIds={machines.map(({ machineId }) => machineId)} />}
    </OpenedDetails>
  )
  const measured = withReach(sums.waste.kWh, sums.waste.reach)
  const perKWh = sums.waste.kWh > 0 ? sums.waste.cost / sums.waste.kWh : 0
  const cost = withReach(sums.waste.cost, sums.waste.reach, perKWh)
  const whole = sums.wholeWaste
  const wholeCost = whole && withReach(whole.cost, whole.reach, whole.kWh > 0 ? whole.cost / whole.kWh : 0)
  const change = sums.changes.previous?.cost.change ?? null
  return (
    <div className="figures">
      <Figure
        name="Waste, measured"
        text={measured.value}
        unit="kWh"
        explanation={{
          formula:
            'Input while idle + what goes over relief, to tank and into valves outside idle, each with its share of pump and motor loss',
          more: sources,
          note: `95 % interval: what each log’s sensors are off by counts once a log, what plates leave open counts in all logs of a machine alike; machines are independent. ${left ?? ''}`,
        }}
      >
        {measured.interval} · {percent(sums.waste.kWh / sums.input.kWh)} of {number(sums.input.kWh)} kWh
      </Figure>
      <Figure
        name="It cost, measured"
        text={cost.value}
        unit={currency}
        explanation={{
          formula: 'Each sample’s waste × the energy price of its hour, by the tariff that held on its day',
          more: sources,
          note: left,
        }}
      >
        {cost.interval} · {number(sums.waste.kgCO2)} kg CO₂ · {number(sums.heatKWh)} kWh heat in the oil
      </Figure>
      <Figure
        name="Whole month, scaled"
        text={wholeCost?.value ?? NO_DATA}
        unit={currency}
        explanation={{
          formula: 'Measured + unlogged planned hours at the measured waste per running hour',
          more: planned,
          note: 'An estimate from what was logged, shown apart from it. Its interval holds how days differ (Student’s t over the days logged) and how far planned hours may be off.',
        }}
      >
        {whole
          ? `${wholeCost?.interval} · ${rough(whole.kWh)} kWh, ${rough(whole.kgCO2)} kg CO₂`
          : 'nothing ran'}
      </Figure>
      <Figure
        name="Coverage"
        text={sums.plannedHours > 0 ? percent(sums.loggedHours / sums.plannedHours) : NO_DATA}
        explanation={{
          formula: 'Logged running hours ÷ planned hours of the machines logged; recorded twice counts once',
          more: planned,
        }}
      >
        {number(sums.loggedHours)} of {number(sums.plannedHours)} h planned
      </Figure>
      <Figure
        name="Against the month before"
        text={signed(change)}
        unit={currency}
        explanation={{
          formula: 'Whole month’s waste now − the month before, for machines logged in both',
          note: 'What changed it stands below: hours, duty, waste per hour and price.',
        }}
      >
        {previous ? 'scaled months compared' : 'no earlier month'}
      </Figure>
      {sums.charges.demand === null && sums.charges.reactive === null ? null : (
        <Figure
          name="Demand and power factor"
          text={rough((sums.charges.demand ?? 0) + (sums.charges.reactive ?? 0))}
          unit={currency}
          explanation={{
            formula:
              'Highest window mean × price × coincidence; kvarh over the free share of the kWh × price, on logged samples',
            inputs: [
              `demand ${rough(sums.charges.demand)} ${currency}`,
              `power factor ${rough(sums.charges.reactive)} ${currency}`,
            ],
            note: 'Beside the price of energy and in none of the figures above; power factor only where current and power are logged.',
          }}
        >
          of the machines that tell
        </Figure>
      )}
    </div>
  )
}
