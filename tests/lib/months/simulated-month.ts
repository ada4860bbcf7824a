import { FIGURES } from '@/lib/months/figures'
import type { MonthSummary } from '@/lib/months/summary'

const H = 3600
/** Days that a month runs, of 8 h each, and those of them that are logged. */
export const DAYS = 20
export const LOGGED = 5
export const DAY_HOURS = 8
const IDLE = FIGURES.indexOf('idle')

/** Some days of a month in idle at rates as logged, each log off by 1 % by itself and all by 2 % alike (1 sd). */
export function summaryOf(logged: readonly number[]): MonthSummary {
  const kWh = logged.reduce((sum, one) => sum + one, 0)
  const of = (value: number) =>
    FIGURES.map((figure) => (figure === 'idle' || figure === 'electric' ? value : 0))
  const mean = kWh / logged.length
  const variance = logged.reduce((sum, one) => sum + ((one - mean) / DAY_HOURS) ** 2, 0) / (logged.length - 1)
  const square = (value: number) =>
    FIGURES.flatMap((_, i) => FIGURES.map((__, j) => (i === j && i <= IDLE ? value : 0)))
  return {
    logs: logged.length,
    cycles: 0,
    kinds: [
      {
        kind: 'idle-loaded',
        seconds: logged.length * DAY_HOURS * H,
        kWh: of(kWh),
        cost: of(kWh / 5),
        heatKWh: 0,
      },
    ],
    spread: {
      independent: square(logged.reduce((sum, one) => sum + (0.01 * one) ** 2, 0)),
      shared: FIGURES.map((_, k) => [k <= IDLE ? 0.02 * kWh : 0]),
      ends: [],
    },
    daySpread: { days: logged.length, meanHours: DAY_HOURS, covariance: square(variance) },
    spans: [],
    peakW: null,
    reactive: null,
    leftOutS: 0,
  }
}

/** A draw from the standard normal distribution (Box and Muller 1958, from memory). */
export const normal = (random: () => number) =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
