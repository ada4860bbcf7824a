import type { OptionResult } from '@/lib/contract/result'

/** A row of an option that gives no figures. */
export const BLANK_OPTION: Omit<OptionResult, 'id' | 'reasons' | 'cautions'> = {
  feasible: false,
  judged: true,
  settings: {},
  savedShare: null,
  savedKWhInLog: null,
  savedKWhPerYear: null,
  savedCostPerYear: null,
  savedKgCO2PerYear: null,
  lessHeatKW: null,
  cycleTimeChangeShare: null,
  investment: null,
  investmentIsPlaceholder: true,
  netPresentValue: null,
  paybackYears: null,
  internalRateOfReturn: null,
  paybackProbability: null,
}
