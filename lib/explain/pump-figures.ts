import type { Analysis } from '@/lib/contract/result'
import { estimated, partsOf } from './account-figures'
import type { Grounds } from './grounds'
import { type Figured, input } from './told'

/** Figures of the pump as the log shows it: `pumpHealth`, the list's name, the place in it, the figure. */
export function pumpFigure(path: readonly string[], analysis: Analysis, grounds: Grounds): Figured | null {
  const [, list, place, name] = path
  const parts = partsOf(grounds, path.join('.'))
  const { volumetricEfficiency, efficiencyPlane } = analysis.pumpHealth
  const at = path.slice(0, 3).join('.')
  const seen = list === 'volumetricEfficiency' ? volumetricEfficiency[Number(place)] : undefined
  if (seen && name === 'seen') {
    return {
      ...estimated(seen.seen, '1', parts),
      formula: 'volumetric-efficiency',
      rulesOf: ['pumpFlow'],
      inputs: [input('pumpPressure', seen.pressureBar, 'bar', 'fitted', at)],
    }
  }
  const field = list === 'efficiencyPlane' ? efficiencyPlane[Number(place)] : undefined
  if (!field || name !== 'efficiency') return null
  return {
    ...estimated(field.efficiency, '1', parts),
    formula: 'pump-efficiency',
    rulesOf: ['pumpFlow', 'shaftPower'],
    inputs: [
      input('hydraulicEnergy', field.hydraulicKWh, 'kWh', 'fitted', at),
      input('shaftEnergy', field.shaftKWh, 'kWh', 'fitted', at),
    ],
  }
}

/** Paths of the pump's figures. */
export const pumpPaths = ({ pumpHealth }: Analysis): string[] => [
  ...pumpHealth.volumetricEfficiency.map((_, k) => `pumpHealth.volumetricEfficiency.${k}.seen`),
  ...pumpHealth.efficiencyPlane.map((_, k) => `pumpHealth.efficiencyPlane.${k}.efficiency`),
]
