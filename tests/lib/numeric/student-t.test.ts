import { describe, expect, it } from 'vitest'
import { studentFactor, studentWithin } from '@/lib/numeric/student-t'

describe('factor of a two-sided interval by Student’s t', () => {
  // JCGM 100:2008 (GUM), table G.2, p = 95 %, to two decimals, and p = 99 % (from memory).
  it.each([
    [1, 12.71, 63.66],
    [2, 4.3, 9.92],
    [3, 3.18, 5.84],
    [4, 2.78, 4.6],
    [5, 2.57, 4.03],
    [6, 2.45, 3.71],
    [8, 2.31, 3.36],
    [10, 2.23, 3.17],
    [15, 2.13, 2.95],
    [20, 2.09, 2.85],
    [30, 2.04, 2.75],
    [50, 2.01, 2.68],
  ])('%i degrees of freedom, as the table of the GUM has it', (degrees, t95, t99) => {
    expect(studentFactor(0.95, degrees)).toBeCloseTo(t95, 2)
    expect(Math.abs(studentFactor(0.99, degrees) - t99)).toBeLessThan(0.006)
  })

  // Handbook tables to three decimals (from memory).
  it.each([
    [7, 2.365],
    [9, 2.262],
    [12, 2.179],
    [25, 2.06],
    [60, 2.0],
    [120, 1.98],
  ])('%i degrees of freedom, to three decimals', (degrees, t95) => {
    expect(Math.abs(studentFactor(0.95, degrees) - t95)).toBeLessThan(6e-4)
  })

  it('is Cauchy’s with one degree of freedom and algebraic with two', () => {
    expect(studentFactor(0.95, 1)).toBeCloseTo(Math.tan((0.95 * Math.PI) / 2), 9)
    // F(t) = 1/2 + t / (2 √(2 + t²)), so |t| < T with probability T / √(2 + T²).
    expect(studentFactor(0.95, 2)).toBeCloseTo(0.95 * Math.sqrt(2 / (1 - 0.95 ** 2)), 9)
  })

  it('is the integral of its density', () => {
    // Simpson's rule over (1 + t²/ν)^−(ν+1)/2, its constant found by the same rule over all of the line.
    const integral = (to: number, degrees: number) => {
      const n = 20_000
      const f = (t: number) => (1 + (t * t) / degrees) ** (-(degrees + 1) / 2)
      let sum = f(0) + f(to)
      for (let k = 1; k < n; k++) sum += (k % 2 === 1 ? 4 : 2) * f((k * to) / n)
      return (sum * to) / (3 * n)
    }
    for (const degrees of [5, 6, 11, 40]) {
      for (const t of [0.4, 1.3, 2.5]) {
        const share = integral(t, degrees) / integral(400, degrees)
        expect(studentWithin(t, degrees)).toBeCloseTo(share, 6)
      }
    }
  })

  it('tends to the normal distribution’s 1.959964', () => {
    expect(studentFactor(0.95, 100_000)).toBeCloseTo(1.959964, 3)
    expect(studentFactor(0.95, 100_000)).toBeGreaterThan(1.959964)
  })
})
