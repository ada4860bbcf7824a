import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { PHASE_KINDS } from '@/lib/contract/result'
import { CAUSES } from '@/lib/months/causes'
import { changeMonth, splitChange as splitMonths } from '@/lib/months/change'
import { FIGURES, type Figure } from '@/lib/months/figures'
import { kindTable } from '@/lib/months/kind-table'
import type { KindSums } from '@/lib/months/summary'

const H = 3600
const splitChange = (before: readonly KindSums[], after: readonly KindSums[], figure: Figure) =>
  splitMonths(changeMonth(kindTable(before)), changeMonth(kindTable(after)), figure)
const idleAt = FIGURES.indexOf('idle')

/** A kind of phase of which all input is waste: hours, kW and price by hand. */
function kind(name: KindSums['kind'], hours: number, kW: number, price: number): KindSums {
  const kWh = FIGURES.map(() => hours * kW)
  return { kind: name, seconds: hours * H, kWh, cost: kWh.map((one) => one * price), heatKWh: 0 }
}

/** Half the running hours idle at 4 kW, half in work without waste, at 0.20. */
const work = (hours: number): KindSums => {
  const nothing = FIGURES.map(() => 0)
  return { kind: 'work-moving', seconds: hours * H, kWh: nothing, cost: nothing, heatKWh: 0 }
}
const before = [kind('idle-loaded', 50, 4, 0.2), work(50)]

describe('one cause at a time, by hand: 200 kWh at 0.20', () => {
  it.each([
    ['hours', [kind('idle-loaded', 75, 4, 0.2), work(75)], 20],
    ['duty', [kind('idle-loaded', 75, 4, 0.2), work(25)], 20],
    ['rate', [kind('idle-loaded', 50, 6, 0.2), work(50)], 20],
    ['price', [kind('idle-loaded', 50, 4, 0.3), work(50)], 20],
  ] as const)('%s', (cause, after, cost) => {
    const split = splitChange(before, after, 'idle')?.cost ?? expect.fail('both months ran')
    expect(split.change).toBeCloseTo(cost, 9)
    for (const one of CAUSES) expect(split.effects[one]).toBeCloseTo(one === cause ? cost : 0, 9)
  })
  it('two causes share what they do together: 100 h at 2 kW to 150 h at 4 kW gives hours 150, rate 250', () => {
    const split = splitChange([kind('idle-loaded', 100, 2, 1)], [kind('idle-loaded', 150, 4, 1)], 'idle')
    const close = (value: number) => expect.closeTo(value, 9)
    expect(split?.kWh.effects).toEqual({ hours: close(150), duty: 0, rate: close(250), price: 0 })
  })
  it('three causes, worked by hand: 2 h × 3 kW × 5 to 4 h × 6 kW × 7 is 138', () => {
    // Shapley of three factors: Δh·(p₁r₁/3 + (p₁r₂ + p₂r₁)/6 + p₂r₂/3), the others alike.
    const split = splitChange([kind('idle-loaded', 2, 3, 5)], [kind('idle-loaded', 4, 6, 7)], 'idle')
    expect(split?.cost.effects.hours).toBeCloseTo(2 * (15 / 3 + (21 + 30) / 6 + 42 / 3), 9)
    expect(split?.cost.effects.rate).toBeCloseTo(3 * (10 / 3 + (14 + 20) / 6 + 28 / 3), 9)
    expect(split?.cost.effects.price).toBeCloseTo(2 * (6 / 3 + (12 + 12) / 6 + 24 / 3), 9)
    expect(split?.cost.change).toBeCloseTo(138, 9)
  })
})

describe('where a month says nothing', () => {
  it('a kind of phase that is new changes the duty, at its own rate', () => {
    const split = splitChange([work(100)], [work(50), kind('idle-loaded', 50, 4, 0.2)], 'idle')
    expect(split?.kWh.effects.duty).toBeCloseTo(200, 9)
    expect(split?.cost.effects.price).toBe(0)
  })
  it('a figure that one month could not separate has no change', () => {
    const blind = { ...before[0], kWh: FIGURES.map((_, k) => (k === idleAt ? null : 1)) }
    expect(splitChange([blind], before, 'idle')).toBeNull()
  })
  it('a month that did not run has none either', () => {
    expect(splitChange([kind('stopped', 5, 0, 0)], before, 'idle')).toBeNull()
  })
})

const month = fc
  .uniqueArray(
    fc.record({
      kind: fc.constantFrom(...PHASE_KINDS),
      hours: fc.double({ min: 1, max: 700, noNaN: true }),
      kW: fc.double({ min: 0, max: 200, noNaN: true }),
      price: fc.double({ min: 0, max: 2, noNaN: true }),
    }),
    { minLength: 1, selector: (one) => one.kind },
  )
  .map((kinds) => kinds.map((one) => kind(one.kind, one.hours, one.kW, one.price)))

it('the causes add up to the change exactly, and swapping the months only turns the signs', () => {
  fc.assert(
    fc.property(month, month, fc.constantFrom(...FIGURES), (a, b, figure) => {
      const there = splitChange(a, b, figure)
      const back = splitChange(b, a, figure)
      if (!there || !back) {
        expect(there).toBe(back)
        return
      }
      for (const unit of ['kWh', 'cost'] as const) {
        const effects = CAUSES.map((cause) => there[unit].effects[cause])
        const size = 1e-8 * Math.max(1, ...effects.map(Math.abs), Math.abs(there[unit].change))
        const sum = effects.reduce((total, one) => total + one, 0)
        expect(Math.abs(sum - there[unit].change)).toBeLessThanOrEqual(size)
        for (const cause of CAUSES)
          expect(Math.abs(there[unit].effects[cause] + back[unit].effects[cause])).toBeLessThanOrEqual(size)
      }
    }),
  )
})

it('the change is what the months differ by', () => {
  fc.assert(
    fc.property(month, month, (a, b) => {
      const total = (kinds: readonly KindSums[]) =>
        kinds.reduce((sum, one) => sum + (one.cost[idleAt] ?? 0), 0)
      const split = splitChange(a, b, 'idle')
      if (!split) return
      const size = 1e-9 * Math.max(1, total(a), total(b))
      expect(Math.abs(split.cost.change - (total(b) - total(a)))).toBeLessThanOrEqual(size)
    }),
  )
})
