import { expect, it } from 'vitest'
import { dutyPoints } from '@/app/_charts/duty-points'
import { type Envelope, mergeEnvelopes, summarise } from '@/app/_charts/samples'

const flat = (timeS: number[], mean: (number | null)[]): Envelope => ({ timeS, min: mean, max: mean, mean })

it('puts detail in place of the coarse points it covers and keeps time rising', () => {
  const whole = new Map([['p', flat([0, 10, 20, 30, 40], [1, 2, 3, 4, 5])]])
  const detail = new Map([['p', flat([12, 14, 16], [20, 21, 22])]])
  const merged = mergeEnvelopes(whole, detail, { from: 12, to: 25 }).get('p')
  expect(merged?.timeS).toEqual([0, 10, 12, 14, 16, 30, 40])
  expect(merged?.mean).toEqual([1, 2, 20, 21, 22, 4, 5])
})

it('summarises only what is shown, extremes from the extremes', () => {
  const envelope = { timeS: [0, 1, 2, 3], min: [0, 1, null, -5], max: [9, 4, null, 6], mean: [5, 2, null, 4] }
  expect(summarise(envelope, 1, 3)).toEqual({ min: -5, max: 6, mean: 3 })
  expect(summarise(envelope, 2, 2)).toBeNull()
})

it('finds the flow over the relief from its power', () => {
  // 150 bar × 60 L/min = 15 kW: P[kW] = p[bar]·Q[L/min]/600, any fluid-power handbook.
  const phases = [
    { kind: 'idle-loaded' as const, startS: 0, endS: 10 },
    { kind: 'work-moving' as const, startS: 10, endS: 20 },
  ]
  const points = dutyPoints(flat([0, 10, 15], [150, 80, null]), flat([0, 10, 15], [15_000, 0, 0]), phases)
  expect(points).toHaveLength(2)
  expect(points[0].flowLpm).toBeCloseTo(60, 9)
  expect(points[0]).toMatchObject({ pressureBar: 150, kind: 'idle-loaded' })
  expect(points[1]).toMatchObject({ flowLpm: 0, kind: 'work-moving' })
})
