import { describe, expect, it } from 'vitest'
import {
  FAST_EXPONENT,
  gasVolumeM3,
  pressureWithout,
  SLOW_EXPONENT,
  usableVolumeM3,
} from '@/lib/machine/accumulator'
import { PA_PER_BAR } from '@/lib/units'

const bar = (value: number) => value * PA_PER_BAR

describe('accumulator', () => {
  it('1 L between 100 and 200 bar, charged to 90, fast: 2.774 L of gas (published 2.77)', () => {
    expect(gasVolumeM3(1e-3, bar(90), bar(100), bar(200), FAST_EXPONENT) * 1000).toBeCloseTo(2.774, 3)
  })
  it('slowly the same gas gives more oil', () => {
    const fast = usableVolumeM3(1, bar(90), bar(100), bar(200), FAST_EXPONENT)
    expect(usableVolumeM3(1, bar(90), bar(100), bar(200), SLOW_EXPONENT)).toBeGreaterThan(1.2 * fast)
    // Boyle's law: 91.01325 / 101.01325 − 91.01325 / 201.01325 of the gas volume.
    expect(usableVolumeM3(1, bar(90), bar(100), bar(200), SLOW_EXPONENT)).toBeCloseTo(0.44823, 4)
  })
  it.each([FAST_EXPONENT, SLOW_EXPONENT])('is at its lowest pressure once its oil is gone, n = %s', (n) => {
    const oil = usableVolumeM3(0.02, bar(90), bar(100), bar(200), n)
    expect(pressureWithout(0, 0.02, bar(90), bar(200), n) / PA_PER_BAR).toBeCloseTo(200, 9)
    expect(pressureWithout(oil, 0.02, bar(90), bar(200), n) / PA_PER_BAR).toBeCloseTo(100, 9)
    const half = pressureWithout(oil / 2, 0.02, bar(90), bar(200), n) / PA_PER_BAR
    expect(half).toBeGreaterThan(100)
    expect(half).toBeLessThan(150)
  })
})
