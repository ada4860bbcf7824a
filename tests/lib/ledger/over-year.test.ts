import { expect, it } from 'vitest'
import { FEW_CYCLES_SHARE_SD, overYear } from '@/lib/ledger/over-year'

const LOGGED = { value: 10, low: 9, high: 12, basis: 'measured' } as const

it('adds the spread between cycles and of the hours in squares, by hand', () => {
  // 1.96·0.05·10 = 0.98 and 0.04·10 = 0.4 beside 1 below and 2 above, times 100.
  const year = overYear(LOGGED, 100, { samplingShareSd: 0.05, plannedHoursLimitShare: 0.04 })
  expect(year.value).toBe(1000)
  expect(year.low).toBeCloseTo(100 * (10 - Math.sqrt(1 + 0.98 ** 2 + 0.4 ** 2)), 9)
  expect(year.high).toBeCloseTo(100 * (10 + Math.sqrt(4 + 0.98 ** 2 + 0.4 ** 2)), 9)
  expect(year.basis).toBe('measured')
})

it('takes a wide spread where fewer than three cycles were seen', () => {
  const year = overYear({ ...LOGGED, low: 10, high: 10 }, 1, {
    samplingShareSd: null,
    plannedHoursLimitShare: 0,
  })
  expect(year.high - year.value).toBeCloseTo(1.96 * FEW_CYCLES_SHARE_SD * 10, 9)
})

it('is the log itself times the factor where nothing else is in doubt', () => {
  expect(overYear(LOGGED, 2, { samplingShareSd: 0, plannedHoursLimitShare: 0 })).toEqual({
    value: 20,
    low: 18,
    high: 24,
    basis: 'measured',
  })
})
