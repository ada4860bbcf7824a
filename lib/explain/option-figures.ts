import type { Estimate } from '@/lib/contract/estimate'
import type { Analysis, OptionResult } from '@/lib/contract/result'
import { estimated } from './account-figures'
import type { Grounds, ReplayGround } from './grounds'
import { moneyFigure } from './option-money'
import { unpackParts } from './pack-parts'
import { closedParts, scaledParts } from './parts'
import { perYear, replayInputs } from './replay-parts'
import { type Figured, input } from './told'
import { priceInput, yearInputs } from './year-inputs'
import { yearMoney } from './year-money'

const SAVINGS = [
  'savedShare',
  'savedKWhInLog',
  'savedKWhPerYear',
  'savedCoolingKWhPerYear',
  'savedCostPerYear',
  'savedDemandCostPerYear',
  'savedKgCO2PerYear',
  'lessHeatKW',
] as const

const REPLAY_RULES = ['pumpFlow', 'systemFlow', 'reliefFlow'] as const

/** The yearly saving in kWh of a replay, whichever row of the result shows it. */
export function savedKWhPerYear(
  shown: Estimate,
  replay: ReplayGround,
  settings: OptionResult['settings'],
  analysis: Analysis,
  grounds: Grounds,
): Figured {
  return {
    ...estimated(shown, 'kWh/yr', closedParts(perYear(replay, analysis, grounds), shown, 'rest')),
    formula: 'saved-per-year',
    rulesOf: REPLAY_RULES,
    inputs: [
      input('savedShare', replay.savedShare, '1', 'fitted'),
      input('input', analysis.ledgerKWh.electricIn.value, 'kWh', 'figure', 'ledgerKWh.electricIn'),
      ...yearInputs(grounds),
      ...replayInputs(replay, settings),
    ],
    allSensors: true,
    exact: ['running-hours', 'logged-input'],
  }
}

function energyFigure(
  name: string,
  option: OptionResult,
  replay: ReplayGround,
  analysis: Analysis,
  grounds: Grounds,
): Figured | null {
  const { site, ledgerKWh } = analysis
  const whole = ledgerKWh.electricIn.value
  const own = unpackParts(replay.parts)
  const saved = input(
    'savedEnergy',
    option.savedKWhPerYear?.value ?? 0,
    'kWh/yr',
    'figure',
    `options.${option.id}.savedKWhPerYear`,
  )
  const year = yearMoney(replay, analysis, grounds)
  const cooling = input(
    'savedCooling',
    year.coolingKWh,
    'kWh/yr',
    'figure',
    `options.${option.id}.savedCoolingKWhPerYear`,
  )
  const yearly = {
    rulesOf: REPLAY_RULES,
    allSensors: true,
    exact: ['running-hours', 'logged-input'],
  } as const
  const share = input('savedShare', replay.savedShare, '1', 'figure', `options.${option.id}.savedShare`)
  const of = SAVINGS.some((known) => known === name) ? option[name as (typeof SAVINGS)[number]] : null
  if (!of) return null
  switch (name) {
    case 'savedShare':
      return {
        ...estimated(of, '1', closedParts(own, of, 'rest')),
        formula: 'saved-share',
        rulesOf: REPLAY_RULES,
        inputs: replayInputs(replay, option.settings),
        allSensors: true,
      }
    case 'savedKWhInLog':
      return {
        ...estimated(of, 'kWh', closedParts(scaledParts(own, whole), of, 'rest')),
        formula: 'saved-in-log',
        rulesOf: REPLAY_RULES,
        inputs: [share, input('input', whole, 'kWh', 'figure', 'ledgerKWh.electricIn')],
        allSensors: true,
        exact: ['logged-input'],
      }
    case 'savedKWhPerYear':
      return savedKWhPerYear(of, replay, option.settings, analysis, grounds)
    case 'savedCostPerYear': {
      const parts = scaledParts(year.energyParts, grounds.year.pricePerKWh)
      return {
        ...estimated(of, `${site.currency}/yr`, closedParts(parts, of, 'rest')),
        ...yearly,
        formula: 'saved-cost',
        inputs: [saved, cooling, priceInput(grounds, site.currency)],
        exact: [...yearly.exact, 'price', 'cooling'],
      }
    }
    case 'savedKgCO2PerYear': {
      const parts = scaledParts(year.energyParts, site.emissionKgPerKWh)
      return {
        ...estimated(of, 'kg/yr', closedParts(parts, of, 'rest')),
        ...yearly,
        formula: 'saved-emission',
        inputs: [
          saved,
          cooling,
          input('emissionPerKWh', site.emissionKgPerKWh, 'kg/kWh', 'setting', 'emissionKgPerKWh'),
        ],
        exact: [...yearly.exact, 'emission', 'cooling'],
      }
    }
    case 'savedCoolingKWhPerYear': {
      const parts = perYear(replay, analysis, grounds)
      const share = year.savedKWh === 0 ? 0 : year.coolingKWh / year.savedKWh
      const from = grounds.year.coolingIsMachines ? 'machine.cooling' : 'site.cooling'
      return {
        ...estimated(of, 'kWh/yr', closedParts(scaledParts(parts, share), of, 'rest')),
        ...yearly,
        formula: 'saved-cooling',
        inputs: [
          input('lessHeat', replay.lessHeatKW, 'kW', 'figure', `options.${option.id}.lessHeatKW`),
          input('electricPerHeat', grounds.year.electricPerHeat, '1', 'setting', from),
          ...yearInputs(grounds),
        ],
        exact: ['running-hours', 'cooling'],
      }
    }
    case 'savedDemandCostPerYear': {
      const { demand } = site.tariff ?? {}
      const share = replay.savedShare === 0 ? 0 : of.value / replay.savedShare
      return {
        ...estimated(of, `${site.currency}/yr`, closedParts(scaledParts(own, share), of, 'rest')),
        rulesOf: REPLAY_RULES,
        allSensors: true,
        formula: 'saved-demand-cost',
        inputs: [
          input('peakBefore', replay.peakBeforeKW ?? 0, 'kW', 'fitted'),
          input('peakAfter', replay.peakAfterKW ?? 0, 'kW', 'fitted'),
          input(
            'demandPrice',
            demand?.pricePerKWMonth ?? 0,
            `${site.currency}/kW`,
            'setting',
            'tariff.demand',
          ),
          input('coincidence', demand?.coincidenceShare ?? 1, '1', 'setting', 'tariff.demand'),
        ],
        exact: ['logged-input'],
      }
    }
    case 'lessHeatKW': {
      const factor = replay.savedShare === 0 ? 0 : replay.lessHeatKW / replay.savedShare
      return {
        ...estimated(of, 'kW', closedParts(scaledParts(own, factor), of, 'rest')),
        formula: 'less-heat',
        rulesOf: REPLAY_RULES,
        inputs: [input('runningHours', grounds.year.runningHours, 'h', 'fitted')],
        allSensors: true,
      }
    }
  }
  return null
}

/** Figures of one option. */
export function optionFigure(path: readonly string[], analysis: Analysis, grounds: Grounds): Figured | null {
  const [, id, name] = path
  const detail = path.slice(2)
  const option = analysis.options.find((one) => one.id === id)
  const replay = grounds.replays.find(({ options }) => options.length === 1 && options[0] === id)
  if (!option || !replay) return null
  return (
    moneyFigure(detail, option, replay, analysis, grounds) ??
    energyFigure(name, option, replay, analysis, grounds)
  )
}
