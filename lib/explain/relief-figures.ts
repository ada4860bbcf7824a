import type { Analysis } from '@/lib/contract/result'
import { estimated, partsOf } from './account-figures'
import { findingFigure } from './finding-figures'
import type { Grounds } from './grounds'
import { type Figured, input } from './told'

/** Figures of the relief's fit and of what it found. */
export function reliefFigure(path: readonly string[], analysis: Analysis, grounds: Grounds): Figured | null {
  const [, name] = path
  const { reliefFit: fit } = analysis
  if (!fit) return null
  const figure = path.join('.')
  const plate = grounds.machine.plate.find(({ field }) => field === 'relief.ratedFlowLpm')
  const rated = plate ? [input('ratedReliefFlow', plate.value, plate.unit, 'nameplate', plate.field)] : []
  const setting = input('settingPressure', fit.settingBar.value, 'bar', 'fitted', 'reliefFit.settingBar')
  const cracking = input('crackingPressure', fit.crackingBar.value, 'bar', 'fitted', 'reliefFit.crackingBar')
  const rulesOf = ['reliefFlow'] as const
  switch (name) {
    case 'crackingBar':
    case 'settingBar':
      return {
        ...estimated(fit[name], 'bar', partsOf(grounds, figure)),
        formula: 'relief-line',
        rulesOf,
        inputs: [...rated, name === 'settingBar' ? cracking : setting],
      }
    case 'overrideBarPerLpm':
      return {
        ...estimated(fit.overrideBarPerLpm, 'bar/(L/min)', partsOf(grounds, figure)),
        formula: 'relief-override',
        rulesOf,
        inputs: [...rated, setting, cracking],
      }
    case 'crackingRatio':
      return {
        value: fit.crackingBar.value / fit.settingBar.value,
        unit: '1',
        formula: 'cracking-over-setting',
        inputs: [cracking, setting],
      }
    case 'backPressureBar':
      if (fit.backPressureBar === undefined) return null
      return { value: fit.backPressureBar, unit: 'bar', formula: 'usual-back-pressure' }
    case 'findings':
      return findingFigure(path, analysis, grounds)
  }
  return null
}
