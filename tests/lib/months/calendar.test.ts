import { expect, it } from 'vitest'
import { calendarStretches } from '@/lib/months/calendar'
import { VIENNA } from '../economics/site'

const H = 3600

it('cuts at price changes and month starts: Tuesday 2026-03-31 20:00 to Wednesday 07:00 in Vienna', () => {
  const stretches = calendarStretches(Date.parse('2026-03-31T20:00+02:00'), 11 * H, VIENNA)
  const joined = stretches.filter((stretch, i) => {
    const next = stretches[i + 1]
    return next?.month !== stretch.month || next.pricePerKWh !== stretch.pricePerKWh
  })
  expect(joined).toEqual([
    { endS: 2 * H, month: '2026-03', pricePerKWh: 0.3, counts: true },
    { endS: 4 * H, month: '2026-03', pricePerKWh: 0.15, counts: true },
    { endS: 10 * H, month: '2026-04', pricePerKWh: 0.15, counts: true },
    { endS: 11 * H, month: '2026-04', pricePerKWh: 0.3, counts: true },
  ])
})
