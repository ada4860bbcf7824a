import type { Assumption } from '@/lib/contract/option-result'
import type { Result } from '@/lib/contract/result'
import { number, percent, rough } from '../format'
import type { Option } from './option-groups'

/** What a net present value hangs on, as people say it. */
const NAMES: Readonly<Record<Assumption, string>> = {
  price: 'Price of energy',
  hours: 'Hours of the year',
  saving: 'Energy saved',
  investment: 'Investment',
  maintenance: 'Upkeep',
  'discount-rate': 'Discount rate',
  life: 'Life of the fix',
}

export interface TornadoRow {
  readonly figure: string
  readonly name: string
  /** Net present value at either end, and the assumption there as text with its unit. */
  readonly low: number
  readonly high: number
  readonly lowAt: string
  readonly highAt: string
  readonly changesFirst: boolean
}

/** Swings of an option's net present value in words, widest first, on one scale for their bars. */
export function tornadoRows(
  { id, tornado }: Option,
  { currency }: Result['site'],
): { rows: TornadoRow[]; least: number; most: number } {
  const said: Readonly<Record<Assumption, (value: number) => string>> = {
    price: (value) => `${number(value)} ${currency}/kWh`,
    hours: (value) => `${rough(value)} h/yr`,
    saving: (value) => `${rough(value)} kWh/yr`,
    investment: (value) => `${rough(value)} ${currency}`,
    maintenance: (value) => `${rough(value)} ${currency}/yr`,
    'discount-rate': (value) => `${percent(value)} a year`,
    life: (value) => `${number(value, 2)} years`,
  }
  const rows = (tornado ?? []).map(({ assumption, low, high, lowAt, highAt, changesFirst }) => ({
    figure: `options.${id}.tornado.${assumption}`,
    name: NAMES[assumption],
    low,
    high,
    lowAt: said[assumption](lowAt),
    highAt: said[assumption](highAt),
    changesFirst,
  }))
  return {
    rows,
    least: Math.min(...rows.map(({ low }) => low)),
    most: Math.max(...rows.map(({ high }) => high)),
  }
}
