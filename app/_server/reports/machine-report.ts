import { findAnalysisFacts } from '@/app/_server/reports/analysis-facts'
import { machineView } from '@/app/_server/views/machine-view'
import { dateTime, duration, entered, estimate, percent } from '@/app/_ui/format'
import { OPTION_WORDS } from '@/app/_ui/labels'
import { sensorWords } from '@/app/_ui/machine/sensor-words'
import { DESTINATIONS, destinationWords, METER_SHARES, PHASES } from '@/app/_ui/streams'
import type { Database } from '@/db/client'
import { listLogEvidence } from '@/db/queries/log-evidence'
import type { Machine } from '@/lib/contract/machine'
import { PHASE_KINDS, type Result, STREAMS } from '@/lib/contract/result'
import { localDay } from '../local-day'
import { checksumsTable, handedInTable, logsTable, problemsTable, sensorsTable } from './log-tables'
import type { Report, ReportBar, ReportTable } from './report'
import { CAUTIONS, METHOD, madeFacts, settingsFacts } from './standing'

const MS_PER_S = 1000

function plateFacts({ motor, pump, relief, unloading }: Machine): (readonly [string, string])[] {
  const known = (value: number | undefined, unit: string) =>
    value === undefined ? 'not known' : `${entered(value)} ${unit}`
  return [
    [
      'Motor',
      `${known(motor.ratedPowerKW, 'kW')}, ${known(motor.ratedVoltageV, 'V')}, ${known(motor.ratedCurrentA, 'A')}, power factor ${motor.ratedPowerFactor === undefined ? 'not known' : entered(motor.ratedPowerFactor)}, efficiency ${percent(motor.ratedEfficiency, 3)}, ${known(motor.ratedSpeedRpm, 'rpm')}, without load ${known(motor.noLoadCurrentA, 'A')}`,
    ],
    [
      'Pump',
      `${pump.kind}, ${known(pump.displacementCm3, 'cm³')}, ${known(pump.ratedPressureBar, 'bar')} at ${known(pump.ratedSpeedRpm, 'rpm')}, volumetric ${percent(pump.volumetricEfficiency, 3)}, overall ${percent(pump.overallEfficiency, 3)}`,
    ],
    [
      'Relief valve',
      `${relief.kind}, ${known(relief.settingBar, 'bar')} at ${known(relief.ratedFlowLpm, 'L/min')}`,
    ],
    ['Unloading', unloading?.kind ?? 'none'],
  ]
}

function accountTable({ ledgerKWh }: Result): ReportTable {
  const share = (value: number) => (value / ledgerKWh.electricIn.value) * 100
  return {
    id: 'account',
    title: 'Account of the log',
    columns: [
      { header: 'Destination' },
      { header: 'Energy', unit: 'kWh', isEstimate: true },
      { header: 'Of input', unit: '%', isNumber: true },
    ],
    rows: [
      ...STREAMS.map((stream) => {
        const figure = ledgerKWh[stream]
        return [DESTINATIONS[stream].label, figure ?? 'not separable', figure ? share(figure.value) : null]
      }),
      ['Electric input', ledgerKWh.electricIn, 100],
    ],
    totalRows: 1,
  }
}

function phasesTable({ ledgerByPhase }: Result): ReportTable {
  return {
    id: 'phases',
    title: 'Account by phase',
    columns: [
      { header: 'Phase' },
      { header: 'Time', unit: 'h', isNumber: true },
      { header: 'Electric input', unit: 'kWh', isEstimate: true },
      { header: 'Over relief', unit: 'kWh', isEstimate: true },
      { header: 'Unloading', unit: 'kWh', isEstimate: true },
      { header: 'Into system', unit: 'kWh', isEstimate: true },
    ],
    rows: PHASE_KINDS.flatMap((kind) => {
      const phase = ledgerByPhase[kind]
      return phase
        ? [
            [
              PHASES[kind].label,
              phase.hours,
              phase.electricIn,
              phase.overRelief,
              phase.unloading,
              phase.intoSystem,
            ],
          ]
        : []
    }),
  }
}

function optionsTable({ options, site }: Result): ReportTable {
  return {
    id: 'options',
    title: 'Options, best first',
    columns: [
      { header: 'Option' },
      { header: 'Saved', unit: 'kWh/yr', isEstimate: true },
      { header: 'Saved', unit: `${site.currency}/yr`, isEstimate: true },
      { header: 'Investment', unit: site.currency, isEstimate: true },
      { header: 'Net present value', unit: site.currency, isEstimate: true },
      { header: 'Payback', unit: 'years', isEstimate: true },
    ],
    rows: options
      .filter(({ feasible, judged }) => feasible && judged)
      .map((option) => [
        `${OPTION_WORDS[option.id].title}${option.investmentIsPlaceholder ? ' (placeholder investment)' : ''}`,
        option.savedKWhPerYear,
        option.savedCostPerYear,
        option.investment,
        option.netPresentValue,
        option.paybackYears,
      ]),
  }
}

function setsTable({ combinations, site }: Result): ReportTable {
  return {
    id: 'sets',
    title: 'Options together',
    columns: [
      { header: 'Set, in this order' },
      { header: 'Saved', unit: 'kWh/yr', isEstimate: true },
      { header: 'Investment', unit: site.currency, isEstimate: true },
      { header: 'Net present value', unit: site.currency, isEstimate: true },
    ],
    rows: combinations.map((set) => [
      set.order.map((id) => OPTION_WORDS[id].title).join(', then '),
      set.savedKWhPerYear,
      set.investment,
      set.netPresentValue,
    ]),
  }
}

/** What a person is to mind for any of the options, each once, with the options it is said of. */
function cautionsOf({ options }: Result): string[] {
  const feasible = options.filter((option) => option.feasible && option.judged)
  const said = new Map<string, string[]>()
  for (const { id, cautions, toConfirm } of feasible)
    for (const { message } of [...cautions, ...toConfirm])
      said.set(message, [...new Set([...(said.get(message) ?? []), OPTION_WORDS[id].title])])
  return [...said].map(([message, titles]) =>
    titles.length === feasible.length ? `${message} (all)` : `${message} (${titles.join('; ')})`,
  )
}

/** Shares of the input at the meter; where metering is not separable, what went into the system holds it. */
function meterParts({ meterSharesKWh, ledgerKWh }: Result): ReportBar['parts'] {
  const total = ledgerKWh.electricIn.value || 1
  const { metering } = meterSharesKWh
  return METER_SHARES.flatMap((key) => {
    const share = meterSharesKWh[key]
    return share
      ? [{ key: key === 'work' && !metering ? 'intoSystem' : key, share: share.value / total }]
      : []
  })
}

/** The days a log was recorded on; null where it has no date. */
function daysOf({ startedAt, durationS }: Result['log'], timeZone: string) {
  if (!startedAt) return null
  const begin = new Date(startedAt)
  const end = new Date(begin.getTime() + durationS * MS_PER_S)
  return { from: localDay(begin, timeZone), until: localDay(end, timeZone) }
}

/** The report of a machine by its latest log; null where it has none that was analysed. */
export async function machineReport(db: Database, id: string, now: Date): Promise<Report | null> {
  const view = await machineView(db, id, undefined)
  if (!view?.result || !view.chosen) return null
  const { result, chosen, config, site, name } = view
  const key = { machineId: id, logId: chosen.id }
  const [facts, handedIn] = [await findAnalysisFacts(db, key, name), await listLogEvidence(db, key)]
  const { log, ledgerKWh, idle, cycles, model, findings, notSeparable } = result
  return {
    kind: 'machine',
    subject: id,
    title: `${site.name}: ${name}`,
    subtitle: `${[view.trade, view.line].filter(Boolean).join(', ')}${view.trade || view.line ? '; ' : ''}log of ${dateTime(log.startedAt, site.timeZone)}, ${duration(log.durationS)}`,
    sections: [
      {
        id: 'summary',
        title: 'In short',
        paragraphs: [
          `Of ${estimate(ledgerKWh.electricIn, 'kWh')} electric input, ${estimate(idle.electricKWh, 'kWh')} went while the machine was idle: ${estimate(idle.costPerYear, `${site.currency} a year`)} at the planned hours. ${cycles.count} cycles were found${cycles.kWhPerCycle ? `, ${estimate(cycles.kWhPerCycle, 'kWh')} each` : ''}.`,
          model.trusted
            ? 'The model reproduces the logged input within the limits.'
            : model.againstMeasuredPower
              ? 'The model does not reproduce the logged input within the limits: check nameplate and sensors before relying on the options.'
              : 'No electric power was measured: two models are compared, and the model is not called trusted.',
        ],
        bars: [
          {
            name: 'Share of input at the meter',
            parts: meterParts(result),
          },
        ],
        facts: [
          ...plateFacts(config),
          ...settingsFacts(site, daysOf(log, site.timeZone)),
          ...madeFacts(now, site.timeZone),
        ],
      },
      {
        id: 'account-section',
        title: 'Where the energy went',
        tables: [accountTable(result), phasesTable(result)],
      },
      {
        id: 'found',
        title: 'What the log says is wrong',
        list: findings.length
          ? findings.map(
              ({ message, costPerYear, checks }) =>
                `${message} It costs ${estimate(costPerYear, `${site.currency} a year`)}.${checks.length ? ` To look at: ${checks.map((check) => check.message).join(' ')}` : ''}`,
            )
          : ['Nothing was found wrong with valve, pump or circuit.'],
      },
      {
        id: 'options-section',
        title: 'What would save most',
        paragraphs: [
          result.ranking === 'energy'
            ? 'Ranked by energy saved: some investments are placeholders, not quotes, and money comes second.'
            : 'Ranked by net present value.',
        ],
        tables: [optionsTable(result), setsTable(result)],
        list: cautionsOf(result),
      },
      {
        id: 'evidence',
        title: 'Log and sensors',
        list: notSeparable.map(
          ({ stream, sensor }) =>
            `These sensors cannot separate: ${destinationWords(stream)}; it would take ${sensorWords(sensor)}.`,
        ),
        tables: facts
          ? [
              logsTable([facts], site.timeZone),
              sensorsTable([facts]),
              handedInTable([facts], handedIn, site.timeZone),
              problemsTable([facts]),
              checksumsTable([facts]),
            ]
          : [],
      },
      METHOD,
      CAUTIONS,
    ],
  }
}
