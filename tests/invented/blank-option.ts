import type { OptionResult } from '@/lib/contract/result'

/** A row of an option that gives no figures. */
export const BLANK_OPTION: Omit<OptionResult, 'id' | 'reasons' | 'cautions'> = {
  feasible: false,
  judged: true,
  settings: {},
  savedShare: null,
  savedKWhInLog: null,
  savedKWhPerYear: null,
  savedCoolingKWhPerYear: null,
  savedCostPerYear: null,
  savedDemandCostPerYear: null,
  savedKgCO2PerYear: null,
  lessHeatKW: null,
  cycleTimeChangeShare: null,
  investment: null,
  investmentIsPlaceholder: true,
  maintenanceCostPerYear: null,
  savedMoneyPerYear: null,
  netPresentValue: null,
  paybackYears: null,
  discountedPaybackYears: null,
  costPerSavedKWh: null,
  internalRateOfReturn: null,
  paybackProbability: null,
  tornado: null,
}
