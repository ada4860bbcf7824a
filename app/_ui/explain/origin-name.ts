import { fields } from '@/app/_words/en/interval'
import { phaseKinds, streams } from '@/app/_words/en/names'
import { options } from '@/app/_words/en/options'
import { spaced } from '@/app/_words/said'
import { tick } from '../format'

/** What stands at the end of a path, whatever it is a part of. */
const ENDS: Readonly<Record<string, string>> = {
  hours: 'hours',
  electricKWh: 'electric input while idle',
  costPerYear: 'cost a year',
  kWhInLog: 'energy in this log',
  count: 'cycles found',
  meanS: 'mean length of a cycle',
  spreadS: 'spread of the length of cycles',
  kWhPerCycle: 'energy per cycle',
  averagingIntervalS: 'averaging interval of the model’s check',
  nmbe: 'mean bias of the model',
  cvRmse: 'scatter of the model',
  crackingBar: 'cracking pressure of the relief',
  settingBar: 'setting of the relief',
  crackingRatio: 'cracking over setting of the relief',
  overrideBarPerLpm: 'override of the relief',
  savedShare: 'share saved',
  savedKWhInLog: 'energy saved in this log',
  savedKWhPerYear: 'energy saved a year',
  savedCostPerYear: 'cost saved a year',
  savedKgCO2PerYear: 'emission saved a year',
  lessHeatKW: 'less heat in the oil',
  investment: 'investment',
  netPresentValue: 'net present value',
  paybackYears: 'payback',
  savedCoolingKWhPerYear: 'electricity of cooling saved a year',
  savedDemandCostPerYear: 'demand charge saved a year',
  maintenanceCostPerYear: 'more upkeep a year',
  savedMoneyPerYear: 'money saved a year',
  discountedPaybackYears: 'payback with interest',
  costPerSavedKWh: 'cost of a saved kWh',
}

/** Settings of the site and the machine by the names of their entries. */
const SETTINGS: Readonly<Record<string, string>> = {
  discountRate: 'site: discount rate',
  emissionKgPerKWh: 'site: emission factor',
  energyPricePerKWh: 'site: energy price',
  lifetimeYears: 'site: life of a fix',
  plannedHoursPerYear: 'site: planned hours',
  wantedPaybackYears: 'site: wanted payback',
  energyPriceLimitShare: 'site: doubt of the energy price',
  optionMaintenance: 'site: upkeep of options',
  optionLifetimeYears: 'site: life of this option',
  plannedHoursLimitShare: 'site: doubt of planned hours',
  discountRateLimit: 'site: doubt of the discount rate',
  lifetimeLimitShare: 'site: doubt of the life',
  'site.cooling': 'site: cooling of the oil',
  'machine.cooling': 'machine: cooling of the oil',
  'tariff.demand': 'site: demand charge',
  longestHoldS: 'machine: longest hold',
  optionCosts: 'placeholder costs of options',
  settings: 'of this option',
  auxiliariesKWh: 'auxiliaries',
  ownCircuitsKWh: 'circuits of their own',
}

const isNamed = <Key extends string>(names: Readonly<Record<Key, unknown>>, key: string): key is Key =>
  Object.hasOwn(names, key)

const streamName = (key: string) => (isNamed(streams, key) ? streams[key].toLowerCase() : spaced(key))
const endName = (key: string) => ENDS[key] ?? spaced(key)

/** Where an input comes from, in words: another figure, an entry of the machine or the site; sensors keep their column. */
export function originName(from: string): string {
  const named = fields[from] ?? SETTINGS[from]
  if (named) return named
  const [whole, part = '', end = '', step = '', last = ''] = from.split('.')
  switch (whole) {
    case 'ledgerKWh':
      return `${streamName(part)}, energy in this log`
    case 'shareOfInput':
      return `${streamName(part)}, share of input`
    case 'ledgerByPhase':
      return `${isNamed(phaseKinds, part) ? phaseKinds[part].toLowerCase() : spaced(part)}: ${end === 'hours' ? 'hours' : `${streamName(end)}, energy`}`
    case 'log':
      return 'length of the log'
    case 'idle':
      return part === 'byLongestHoldS'
        ? `${ENDS.electricKWh}, longest hold ${tick(Number(end))} s`
        : endName(part)
    case 'options':
      return isNamed(options, part) ? `${options[part].title}: ${endName(end)}` : endName(end)
    case 'combinations':
      return `options together, no. ${Number(part) + 1}${end === 'steps' ? `, step ${Number(step) + 1}` : ''}: ${endName(end === 'steps' ? last : end)}`
    case 'bestUnderBudget':
      return part === 'steps'
        ? `best set for the budget, step ${Number(end) + 1}: ${endName(step)}`
        : `best set for the budget: ${endName(part)}`
    case 'findings':
      return `what was found: ${part.replaceAll('-', ' ')}`
    case 'pumpHealth':
      return part === 'efficiencyPlane'
        ? `efficiency of the pump, row ${Number(end) + 1}`
        : `volumetric efficiency, row ${Number(end) + 1}`
    case 'reliefFit':
      return part === 'findings' ? `what was found: ${end.replaceAll('-', ' ')}` : endName(part)
    case 'cycles':
    case 'model':
      return endName(part)
    default:
      return spaced(from.split('.').join(' '))
  }
}
