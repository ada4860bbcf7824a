import type { Input } from '@/lib/contract/explanation'
import type { Grounds } from './grounds'
import { input } from './told'

/** Hours that scale a log to a year. */
export function yearInputs({ year }: Grounds): Input[] {
  return [
    input('plannedHours', year.plannedHours, 'h/yr', 'setting', 'plannedHoursPerYear'),
    input('runningHours', year.runningHours, 'h', 'figure'),
  ]
}

/** The price of a kWh: the site's own, or the mean over its bands as the log's energy fell in them. */
export function priceInput({ year }: Grounds, currency: string): Input {
  const from = year.priceIsMean ? 'tariff.bands' : 'energyPricePerKWh'
  return input('pricePerKWh', year.pricePerKWh, `${currency}/kWh`, 'setting', from)
}
