import type { Analysis } from '@/lib/contract/result'
import { IDLE_KINDS } from '@/lib/ledger/idle'
import { estimated, partsOf } from './account-figures'
import type { Grounds } from './grounds'
import { scaledParts } from './parts'
import { type Figured, input } from './told'
import { priceInput, yearInputs, yearParts } from './year-inputs'

function idleFigure(
  path: readonly string[],
  { idle }: Analysis,
  grounds: Grounds,
  currency: string,
): Figured | null {
  const [, name, seconds] = path
  const common = { rulesOf: ['electricPower', 'shaftPower'], kinds: IDLE_KINDS } as const
  const parts = partsOf(grounds, 'idle.electricKWh')
  switch (name) {
    case 'hours':
      return { value: idle.hours, unit: 'h', formula: 'time-in-phase', allSensors: true }
    case 'electricKWh': {
      const others = Object.entries(idle.byLongestHoldS).map(([hold, kWh]) =>
        input('idleEnergy', kWh, 'kWh', 'figure', `idle.byLongestHoldS.${hold}`),
      )
      return {
        ...estimated(idle.electricKWh, 'kWh', parts),
        ...common,
        formula: 'input-while-idle',
        inputs: others,
        exact: ['time'],
      }
    }
    case 'costPerYear': {
      const { value } = idle.electricKWh
      return {
        ...estimated(
          idle.costPerYear,
          `${currency}/yr`,
          scaledParts(
            [...parts, ...yearParts(value, grounds.year.idleSamplingShareSd, grounds)],
            value === 0 ? 0 : idle.costPerYear.value / value,
          ),
        ),
        ...common,
        formula: 'idle-cost-per-year',
        inputs: [
          input('idleEnergy', value, 'kWh', 'figure', 'idle.electricKWh'),
          ...yearInputs(grounds),
          priceInput(grounds, currency),
        ],
        exact: ['running-hours', 'price'],
      }
    }
    case 'byLongestHoldS': {
      const kWh = idle.byLongestHoldS[seconds]
      if (kWh === undefined) return null
      return {
        value: kWh,
        unit: 'kWh',
        formula: 'idle-at-longest-hold',
        ...common,
        inputs: [input('longestHold', Number(seconds), 's', 'setting', 'longestHoldS')],
      }
    }
  }
  return null
}

function cycleFigure(name: string, { cycles }: Analysis, grounds: Grounds): Figured | null {
  const inputs = [input('cycleCount', cycles.count, '', 'figure', 'cycles.count')]
  switch (name) {
    case 'count':
      return { value: cycles.count, unit: '', formula: 'cycles-counted', allSensors: true }
    case 'meanS':
      return { value: cycles.meanS, unit: 's', formula: 'mean-cycle-time', inputs, allSensors: true }
    case 'spreadS':
      return { value: cycles.spreadS, unit: 's', formula: 'spread-of-cycle-time', inputs, allSensors: true }
    case 'kWhPerCycle': {
      const { kWhPerCycle, meanS, spreadS } = cycles
      if (!kWhPerCycle) return null
      if (meanS !== null) inputs.push(input('cycleTime', meanS, 's', 'figure', 'cycles.meanS'))
      if (spreadS !== null) inputs.push(input('cycleTime', spreadS, 's', 'figure', 'cycles.spreadS'))
      return {
        ...estimated(kWhPerCycle, 'kWh', partsOf(grounds, 'cycles.kWhPerCycle')),
        formula: 'energy-per-cycle',
        rulesOf: ['electricPower', 'shaftPower'],
        inputs,
        exact: ['time'],
      }
    }
  }
  return null
}

function modelFigure(name: string, { model }: Analysis): Figured | null {
  if (name !== 'nmbe' && name !== 'cvRmse') return null
  return {
    value: model[name],
    unit: '1',
    formula: name === 'nmbe' ? 'nmbe' : 'cv-rmse',
    rulesOf: ['electricPower', 'shaftPower'],
    inputs: [input('step', model.averagingIntervalS, 's', 'figure', 'model.averagingIntervalS')],
    allSensors: true,
  }
}

/** Figures of idle time, cycles and the model's check. */
export function logFigure(path: readonly string[], analysis: Analysis, grounds: Grounds): Figured | null {
  const [group, name] = path
  if (group === 'idle') return idleFigure(path, analysis, grounds, analysis.site.currency)
  if (group === 'cycles') return cycleFigure(name, analysis, grounds)
  return group === 'model' ? modelFigure(name, analysis) : null
}
