import { Fragment, type ReactNode } from 'react'
import type { ShownMachine } from '@/app/_server/views/month-columns-layout'
import type { MonthPage } from '@/app/_server/views/month-page'
import type { WasteKind } from '@/lib/months/waste'
import { count, monthName, number, percent, rough } from '../format'
import { DESTINATIONS } from '../streams'
import { ChangeInputsView } from './change-inputs-view'
import { SourceLogs } from './log-links'
import { withReach } from './reach-text'

/** Figures of a row that open. */
export type CellPart = 'kWh' | 'cost' | 'CO2' | 'share' | 'scaled' | 'scaledCost' | 'change' | 'coverage'

/** One figure of a machine's kind of waste: formula with its numbers, interval, and the logs it stands on. */
export function CellExplained({
  machine,
  kind,
  part,
  month,
  site,
}: {
  machine: ShownMachine
  kind: WasteKind
  part: CellPart
  month: string
  site: MonthPage['site']
}) {
  const { review } = machine
  const { currency } = site
  const split = review.changes.previous?.[kind]?.cost ?? null
  return (
    <div className="explain">
      {part === 'change' ? (
        <ChangeInputsView
          month={month}
          machineId={machine.machineId}
          figure={kind}
          against="previous"
          currency={currency}
          shownCost={split?.change ?? null}
        />
      ) : (
        <dl>
          <Lines of={linesOf(machine, kind, part, currency)} />
        </dl>
      )}
      <SourceLogs machineId={machine.machineId} timeZone={site.timeZone} kind={kind} />
    </div>
  )
}

/** One figure of all of a machine's waste: the kinds it is the sum of, each with its own formula and interval. */
export function KindsExplained({
  machine,
  kinds,
  part,
  month,
  site,
}: {
  machine: ShownMachine
  kinds: readonly WasteKind[]
  part: CellPart
  month: string
  site: MonthPage['site']
}) {
  return (
    <div className="explain">
      <p>The sum of these kinds of waste in {monthName(month)}; what is not separable is missing from it.</p>
      {kinds.map((kind) => (
        <section key={kind}>
          <h3>{DESTINATIONS[kind].label}</h3>
          <dl>
            <Lines of={linesOf(machine, kind, part, site.currency)} />
          </dl>
        </section>
      ))}
      <SourceLogs machineId={machine.machineId} timeZone={site.timeZone} kind={kinds[0]} />
    </div>
  )
}

type Line = readonly [name: string, text: ReactNode]

function linesOf(machine: ShownMachine, kind: WasteKind, part: CellPart, currency: string): Line[] {
  const { month, reach, emissionKgPerKWh, days } = machine.review
  const measured = month.measured.waste[kind]
  const scaled = month.scaled?.waste[kind] ?? null
  const sure = reach[kind]
  const { label } = DESTINATIONS[kind]
  const hours = month.measured.runningHours
  const logged: Line = [
    'Logged',
    `${number(hours)} hours run on ${count(days)} days: ${number(month.measured.hours.idle)} h idle, ${number(month.measured.hours.work)} h work; ${number(month.measured.electric.kWh)} kWh electric input`,
  ]
  if (part === 'coverage')
    return [
      ['Formula', 'logged running hours ÷ planned hours'],
      ['Inputs', `${number(hours)} h ÷ ${number(month.plannedHours)} h = ${percent(month.coverageShare)}`],
    ]
  if (!measured) return [['No data', 'the fitted sensors could not separate it'], logged]
  if (part === 'kWh')
    return [
      [
        'Formula',
        kind === 'idle'
          ? 'sum of electric input over all samples in which no actuator moves'
          : `sum over all working samples of electric input × ${label.toLowerCase()} ÷ all hydraulic power, so with its share of motor and pump loss`,
      ],
      logged,
      ['95 % interval', intervalText(measured.kWh, sure?.measured ?? null)],
      ['Made of', 'what sensors and edges of each log do, log by log; plates and models, in all logs alike'],
    ]
  if (part === 'cost')
    return [
      ['Formula', 'each sample’s waste × the price of its hour, by the tariff that held on its day'],
      [
        'Inputs',
        `${number(measured.kWh)} kWh at ${number(measured.kWh > 0 ? measured.cost / measured.kWh : null)} ${currency}/kWh in the mean = ${number(measured.cost)} ${currency}`,
      ],
      [
        '95 % interval',
        `as far as the energy’s, in proportion: ${intervalText(measured.kWh, sure?.measured ?? null)}`,
      ],
    ]
  if (part === 'CO2')
    return [
      ['Formula', 'measured energy × emission factor, mean over the days of the month'],
      [
        'Inputs',
        `${number(measured.kWh)} kWh × ${number(emissionKgPerKWh)} kg CO₂/kWh = ${number(measured.kgCO2)} kg CO₂`,
      ],
      [
        '95 % interval',
        `as far as the energy’s, in proportion: ${intervalText(measured.kWh, sure?.measured ?? null)}`,
      ],
    ]
  if (part === 'share')
    return [
      ['Formula', 'measured ÷ electric input, both logged'],
      [
        'Inputs',
        `${number(measured.kWh)} kWh ÷ ${number(month.measured.electric.kWh)} kWh = ${percent(measured.kWh / month.measured.electric.kWh)}`,
      ],
    ]
  if (!scaled) return [['No data', 'nothing ran, so nothing can be scaled'], logged]
  const unlogged = Math.max(0, month.plannedHours - hours)
  const parts = sure?.scaledParts
  return [
    ['Formula', '(planned hours − logged running hours) × measured per running hour'],
    [
      'Inputs',
      part === 'scaled'
        ? `(${number(month.plannedHours)} h − ${number(hours)} h) = ${number(unlogged)} h × ${number(measured.kWh / hours)} kWh/h = ${rough(scaled.kWh)} kWh`
        : `${number(unlogged)} h × ${number(measured.cost / hours)} ${currency}/h = ${rough(scaled.cost)} ${currency}`,
    ],
    [
      '95 % interval',
      `${part === 'scaled' ? '' : 'as far as the energy’s, in proportion: '}${intervalText(scaled.kWh, sure?.scaled ?? null)}`,
    ],
    ...(parts
      ? [
          [
            'Made of',
            `rates as measured ± ${rough(parts.rates)} kWh; days unlike one another ± ${rough(parts.days)} kWh; planned hours ± ${rough(parts.hours)} kWh`,
          ] as const,
        ]
      : []),
  ]
}

const intervalText = (kWh: number, reach: Parameters<typeof withReach>[1]) =>
  reach ? `${withReach(kWh, reach).value} ${withReach(kWh, reach).interval} kWh` : 'not known yet'

function Lines({ of }: { of: readonly Line[] }) {
  return of.map(([name, text]) => (
    <Fragment key={name}>
      <dt>{name}</dt>
      <dd>{text}</dd>
    </Fragment>
  ))
}
