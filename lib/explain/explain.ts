import type { Explanation } from '@/lib/contract/explanation'
import { type Analysis, STREAMS } from '@/lib/contract/result'
import { accountFigure } from './account-figures'
import { besideFigure } from './beside'
import { combinationFigure, combinationPaths, curveFigure } from './combination-figures'
import { findingFigure, findingPaths } from './finding-figures'
import type { Grounds } from './grounds'
import { logFigure } from './log-figures'
import { optionFigure } from './option-figures'
import { pumpFigure, pumpPaths } from './pump-figures'
import { reliefFigure } from './relief-figures'
import { type Figured, toldFigure } from './told'

function figured(path: readonly string[], analysis: Analysis, grounds: Grounds): Figured | null {
  switch (path[0]) {
    case 'idle':
    case 'cycles':
    case 'model':
      return logFigure(path, analysis, grounds)
    case 'auxiliariesKWh':
    case 'ownCircuitsKWh':
      return besideFigure(path[0], analysis, grounds)
    case 'reliefFit':
      return reliefFigure(path, analysis, grounds)
    case 'findings':
      return findingFigure(path, analysis, grounds)
    case 'pumpHealth':
      return pumpFigure(path, analysis, grounds)
    case 'options':
      return optionFigure(path, analysis, grounds)
    case 'combinations':
    case 'bestUnderBudget':
      return combinationFigure(path, analysis, grounds)
    case 'marginalCostCurve':
      return curveFigure(path, analysis, grounds)
    default:
      return accountFigure(path, analysis, grounds)
  }
}

/**
 * How one figure of a result was reached, or null where the result has no such figure.
 * @param figure its path in the result; also `shareOfInput.` with `idle` or a line of the account, and `reliefFit.crackingRatio`
 */
export function explain(figure: string, analysis: Analysis, grounds: Grounds): Explanation | null {
  const of = figured(figure.split('.'), analysis, grounds)
  if (!of) return null
  const told = toldFigure(figure, of, grounds)
  const { channels } = analysis.log
  const sensors = told.sensors.map((sensor) => {
    const evidence = channels.find(({ column }) => column === sensor.column)?.evidence
    return evidence ? { ...sensor, evidence } : sensor
  })
  return { ...told, sensors }
}

const LINES = ['electricIn', ...STREAMS]
const OF_OPTION = [
  'savedShare',
  'savedKWhInLog',
  'savedKWhPerYear',
  'savedCoolingKWhPerYear',
  'savedCostPerYear',
  'savedDemandCostPerYear',
  'savedKgCO2PerYear',
  'lessHeatKW',
  'investment',
  'maintenanceCostPerYear',
  'savedMoneyPerYear',
  'netPresentValue',
  'paybackYears',
  'discountedPaybackYears',
  'costPerSavedKWh',
  'internalRateOfReturn',
  'paybackProbability',
  'cycleTimeChangeShare',
]

/** Paths of every figure of a result that can be explained. */
export function figuresOf(analysis: Analysis, grounds: Grounds): string[] {
  const under = (start: string, names: readonly string[]) => names.map((name) => `${start}.${name}`)
  const all = [
    ...under('ledgerKWh', LINES),
    ...under('shareOfInput', ['idle', ...STREAMS]),
    ...Object.keys(analysis.ledgerByPhase).flatMap((kind) =>
      under(`ledgerByPhase.${kind}`, ['hours', ...LINES]),
    ),
    ...under('meterSharesKWh', Object.keys(analysis.meterSharesKWh)),
    'auxiliariesKWh',
    'ownCircuitsKWh',
    ...under('idle', ['hours', 'electricKWh', 'costPerYear']),
    ...under('idle.byLongestHoldS', Object.keys(analysis.idle.byLongestHoldS)),
    ...under('cycles', ['count', 'meanS', 'spreadS', 'kWhPerCycle']),
    ...under('reliefFit', [
      'crackingBar',
      'settingBar',
      'crackingRatio',
      'overrideBarPerLpm',
      'backPressureBar',
    ]),
    ...findingPaths(analysis),
    ...pumpPaths(analysis),
    ...under('model', ['nmbe', 'cvRmse']),
    ...analysis.options.flatMap(({ id, tornado }) => [
      ...under(`options.${id}`, OF_OPTION),
      ...under(`options.${id}.tornado`, tornado?.map(({ assumption }) => assumption) ?? []),
    ]),
    ...combinationPaths(analysis),
  ]
  return all.filter((figure) => explain(figure, analysis, grounds) !== null)
}
