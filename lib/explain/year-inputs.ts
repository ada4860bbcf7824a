import type { Input } from '@/lib/contract/explanation'
import { yearReach } from '@/lib/ledger/over-year'
import type { Grounds } from './grounds'
import { evenPart, type Part } from './parts'
import { input } from './told'

/** Hours that scale a log to a year. */
export function yearInputs({ year }: Grounds): Input[] {
  return [
    input('plannedHours', year.plannedHours, 'h/yr', 'setting', 'plannedHoursPerYear'),
    input('runningHours', year.runningHours, 'h', 'fitted'),
  ]
}

/** What turning a log's figure into a year's adds to its interval, in the figure's unit. */
export function yearParts(value: number, samplingShareSd: number | null, { year }: Grounds): Part[] {
  const { plannedHoursLimitShare } = year
  const { sampling, hours } = yearReach(value, { samplingShareSd, plannedHoursLimitShare })
  return [
    ...(sampling > 0 ? [evenPart(samplingShareSd === null ? 'few-cycles' : 'cycle-spread', sampling)] : []),
    ...(hours > 0 ? [evenPart('planned-hours', hours)] : []),
  ]
}

/** The price of a kWh: the site's own, or the mean over its bands as the log's energy fell in them. */
export function priceInput({ year }: Grounds, currency: string): Input {
  const from = year.priceIsMean ? 'tariff.bands' : 'energyPricePerKWh'
  return input('pricePerKWh', year.pricePerKWh, `${currency}/kWh`, 'setting', from)
}
