import { monthView } from '@/app/_server/views/month-view'
import { monthName, percent, rough } from '@/app/_ui/format'
import { sumMonth } from '@/app/_ui/months/month-sum'
import { DESTINATIONS } from '@/app/_ui/streams'
import { optionTitle } from '@/app/_words/en/option-title'
import type { Database } from '@/db/client'
import { listMonthEvidence } from '@/db/queries/log-evidence'
import { DEFAULT_SITE_ID } from '@/db/queries/sites'
import { listAuditedLogs } from '@/db/queries/views-report'
import { CAUSES, type Cause } from '@/lib/months/causes'
import type { Reach } from '@/lib/months/reach'
import { WASTE_KINDS } from '@/lib/months/waste'
import { checksumsTable, handedInTable, logsTable, problemsTable, sensorsTable } from './log-tables'
import type { Cell, Report, ReportTable } from './report'
import { CAUTIONS, METHOD, madeFacts, settingsFacts } from './standing'

const CAUSE_HEADERS: Readonly<Record<Cause, string>> = {
  hours: 'by hours run',
  duty: 'by duty',
  rate: 'by waste per hour',
  price: 'by price',
}

type View = Awaited<ReturnType<typeof monthView>>
type MachineOfMonth = View['machines'][number]

/** A value with how far its 95 % interval reaches; without one where that is not known yet. */
function sure(value: number, reach: Reach | null | undefined): Cell {
  if (!reach) return value
  return { value, low: value - reach.below, high: value + reach.above, basis: 'estimated' }
}

/** Differences of equal sums are nil, whatever the last bits say. */
const NOISE_KWH = 1e-6
const withoutNoise = (kWh: number) => (Math.abs(kWh) < NOISE_KWH ? 0 : kWh)

const allKinds = (machines: readonly MachineOfMonth[]) =>
  sumMonth(machines.map((machine) => ({ machine, kinds: WASTE_KINDS })))

function machinesTable({ machines, site }: View): ReportTable {
  const row = (of: readonly MachineOfMonth[], name: string, line: string): Cell[] => {
    const { input, waste, wholeWaste, loggedHours, plannedHours } = allKinds(of)
    return [
      name,
      line,
      loggedHours,
      plannedHours > 0 ? (loggedHours / plannedHours) * 100 : null,
      sure(input.kWh, input.reach),
      sure(waste.kWh, waste.reach),
      input.kWh > 0 ? (waste.kWh / input.kWh) * 100 : null,
      waste.cost,
      waste.kgCO2,
      wholeWaste && sure(wholeWaste.kWh, wholeWaste.reach),
      wholeWaste?.cost ?? null,
    ]
  }
  return {
    id: 'machines',
    title: 'Machines',
    columns: [
      { header: 'Machine' },
      { header: 'Line' },
      { header: 'Logged', unit: 'h', isNumber: true },
      { header: 'Of planned hours', unit: '%', isNumber: true },
      { header: 'Input, measured', unit: 'kWh', isEstimate: true },
      { header: 'Waste, measured', unit: 'kWh', isEstimate: true },
      { header: 'Of input', unit: '%', isNumber: true },
      { header: 'It cost', unit: site.currency, isNumber: true },
      { header: 'CO₂', unit: 'kg', isNumber: true },
      { header: 'Waste, whole month', unit: 'kWh', isEstimate: true },
      { header: 'It cost, whole month', unit: site.currency, isNumber: true },
    ],
    rows: [
      ...machines.map((machine) => row([machine], machine.name, machine.line ?? '')),
      row(machines, 'All', ''),
    ],
    totalRows: 1,
  }
}

function wasteTable({ machines, site }: View): ReportTable {
  return {
    id: 'waste',
    title: 'Waste by machine and kind',
    columns: [
      { header: 'Machine' },
      { header: 'Kind' },
      { header: 'Measured', unit: 'kWh', isEstimate: true },
      { header: 'Cost', unit: site.currency, isNumber: true },
      { header: 'CO₂', unit: 'kg', isNumber: true },
      { header: 'Scaled part', unit: 'kWh', isEstimate: true },
      { header: 'Change to month before', unit: 'kWh', isNumber: true },
      ...CAUSES.map((cause) => ({ header: CAUSE_HEADERS[cause], unit: 'kWh', isNumber: true })),
    ],
    rows: machines.flatMap(({ name, review }) =>
      WASTE_KINDS.map((kind): Cell[] => {
        const { measured, scaled } = review.month
        const own = measured.waste[kind]
        const more = scaled?.waste[kind]
        const split = review.changes.previous?.[kind]?.kWh
        return [
          name,
          DESTINATIONS[kind].label,
          own ? sure(own.kWh, review.reach[kind]?.measured) : 'not separable',
          own?.cost ?? null,
          own?.kgCO2 ?? null,
          more ? sure(more.kWh, review.reach[kind]?.scaled) : null,
          split ? withoutNoise(split.change) : null,
          ...CAUSES.map((cause) => (split ? withoutNoise(split.effects[cause]) : null)),
        ]
      }),
    ),
  }
}

function optionsTable({ machines, site }: View): ReportTable {
  const best = machines
    .flatMap(({ name, best: own }) => (own ? [{ name, own }] : []))
    .sort((a, b) => (b.own.savedKWhPerYear?.value ?? 0) - (a.own.savedKWhPerYear?.value ?? 0))
  return {
    id: 'options',
    title: 'What to do first',
    columns: [
      { header: 'Machine' },
      { header: 'Best option' },
      { header: 'Saves', unit: 'kWh/yr', isEstimate: true },
      { header: 'Saves', unit: `${site.currency}/yr`, isEstimate: true },
      { header: 'Investment', unit: site.currency, isEstimate: true },
      { header: 'Payback', unit: 'years', isEstimate: true },
    ],
    rows: best.map(({ name, own }) => [
      name,
      `${optionTitle(own.id)}${own.investmentIsPlaceholder ? ' (placeholder investment)' : ''}`,
      own.savedKWhPerYear,
      own.savedCostPerYear,
      own.investment,
      own.paybackYears,
    ]),
  }
}

/** The report of a month; null where nothing was logged in it. */
export async function monthReport(db: Database, month: string, now: Date): Promise<Report | null> {
  const view = await monthView(db, month)
  if (view.machines.length === 0) return null
  const { site, machines, unlogged, previous } = view
  const logs = await listAuditedLogs(db, DEFAULT_SITE_ID, month)
  const handedIn = await listMonthEvidence(db, DEFAULT_SITE_ID, month)
  const { input, waste } = allKinds(machines)
  const thin = machines.filter(({ review }) => review.month.thinCoverage)
  const untrusted = new Set(logs.filter(({ model }) => !model.trusted).map(({ machineName }) => machineName))
  return {
    kind: 'month',
    subject: month,
    title: `${site.name}: ${monthName(month)}`,
    subtitle: `Where hydraulic power went, what it cost and what to do first; ${machines.length} machines, ${logs.length} logs`,
    sections: [
      {
        id: 'summary',
        title: 'In short',
        paragraphs: [
          `Of ${rough(input.kWh)} kWh measured at the meter, ${rough(waste.kWh)} kWh (${percent(input.kWh > 0 ? waste.kWh / input.kWh : null)}) did nothing: input while idle, and oil over relief valves, to tank or through metering edges. It cost ${rough(waste.cost)} ${site.currency}.`,
          'Measured figures are sums over the logs of the month. Whole-month figures add the planned hours that nobody logged, at the measured rate, and are estimates.',
        ],
        facts: [
          ...settingsFacts(site, { from: `${month}-01`, until: `${month}-31` }),
          ...madeFacts(now, site.timeZone),
        ],
        bars: machines.map(({ name, review: { month: own } }) => ({
          name,
          parts: WASTE_KINDS.map((key) => ({
            key,
            share: own.measured.electric.kWh
              ? (own.measured.waste[key]?.kWh ?? 0) / own.measured.electric.kWh
              : 0,
          })),
        })),
      },
      { id: 'by-machine', title: 'By machine', tables: [machinesTable(view)] },
      {
        id: 'by-kind',
        title: 'By kind of waste',
        paragraphs: [
          previous
            ? 'The change compares whole months, for machines logged in both; its four causes add up to it.'
            : 'There is no earlier month to compare with.',
        ],
        tables: [wasteTable(view)],
      },
      {
        id: 'first',
        title: 'What to do first',
        paragraphs: ['The best option of each machine, replayed on its latest log.'],
        tables: [optionsTable(view)],
      },
      {
        id: 'quality',
        title: 'How far to trust these figures',
        list: [
          thin.length
            ? `Logged for less than a tenth of the planned hours, so whole months stand on thin ground: ${thin.map(({ name, review }) => `${name} (${percent(review.month.coverageShare)})`).join(', ')}.`
            : 'Every machine was logged for at least a tenth of its planned hours.',
          untrusted.size
            ? `The model does not reproduce the logged input, or power was not measured, for logs of: ${[...untrusted].join(', ')}.`
            : 'The model reproduces the logged input of every log.',
          ...(unlogged.length
            ? [`Not logged in this month: ${unlogged.map(({ name }) => name).join(', ')}.`]
            : []),
        ],
        tables: [problemsTable(logs)],
      },
      {
        id: 'evidence',
        title: 'Logs and sensors',
        tables: [
          logsTable(logs, site.timeZone),
          sensorsTable(logs),
          handedInTable(logs, handedIn, site.timeZone),
          checksumsTable(logs),
        ],
      },
      METHOD,
      CAUTIONS,
    ],
  }
}
