import type { Funded } from './fund'

/** What one machine's choice adds to the curve. */
export interface CostStep extends Funded {
  readonly fromKWh: number
  readonly toKWh: number
  /** Yearly cost of the choice over the kWh that it saves a year. */
  readonly costPerSavedKWh: number
  /** Likely investments up to and with this one. */
  readonly spent: number
}

/** Choices one after the other along the energy that they save a year, the cheapest kWh first. */
export function costCurveOf(funded: readonly Funded[]): CostStep[] {
  const unitCost = ({ choice }: Funded) => choice.yearlyCost / choice.savedKWhPerYear.value
  let [kWh, spent] = [0, 0]
  return [...funded]
    .sort((a, b) => unitCost(a) - unitCost(b))
    .map((one) => {
      const fromKWh = kWh
      kWh += one.choice.savedKWhPerYear.value
      spent += one.choice.investment.value
      return { ...one, fromKWh, toKWh: kWh, costPerSavedKWh: unitCost(one), spent }
    })
}
