import fc from 'fast-check'
import { linearRegression, linearRegressionLine, rSquared } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { leastSquares } from '@/lib/numeric/least-squares'

/** NIST StRD, linear regression, Norris (calibration of ozone monitors): data and certified values, from memory. */
const NORRIS: readonly (readonly [y: number, x: number])[] = [
  [0.1, 0.2],
  [338.8, 337.4],
  [118.1, 118.2],
  [888.0, 884.6],
  [9.2, 10.1],
  [228.1, 226.5],
  [668.5, 666.3],
  [998.5, 996.3],
  [449.1, 448.6],
  [778.9, 777.0],
  [559.2, 558.2],
  [0.3, 0.4],
  [0.1, 0.6],
  [778.1, 775.5],
  [668.8, 666.9],
  [339.3, 338.0],
  [448.9, 447.5],
  [10.8, 11.6],
  [557.7, 556.0],
  [228.3, 228.1],
  [998.0, 995.8],
  [888.8, 887.6],
  [119.6, 120.2],
  [0.3, 0.3],
  [0.6, 0.3],
  [557.6, 556.8],
  [339.3, 339.1],
  [888.0, 887.2],
  [998.5, 999.0],
  [778.9, 779.0],
  [10.2, 11.1],
  [117.6, 118.3],
  [228.9, 229.2],
  [668.4, 669.1],
  [449.2, 448.9],
  [0.2, 0.5],
]

const line = (points: readonly (readonly [number, number])[]) =>
  leastSquares(
    points.map(([, x]) => [1, x]),
    points.map(([y]) => y),
  )

describe('ordinary least squares', () => {
  it('meets the certified values of Norris', () => {
    const fit = line(NORRIS)
    if (!fit) throw new Error('no fit')
    const [constant, slope] = fit.coefficients
    expect(constant).toBeCloseTo(-0.262323073774029, 11)
    expect(slope).toBeCloseTo(1.00211681802045, 13)
    expect(Math.sqrt(fit.variance)).toBeCloseTo(0.884796396144373, 11)
    expect(Math.sqrt(fit.variance * fit.unscaled.get(0, 0))).toBeCloseTo(0.232818234301152, 11)
    expect(Math.sqrt(fit.variance * fit.unscaled.get(1, 1))).toBeCloseTo(0.429796848199937e-3, 14)
    expect(fit.r2).toBeCloseTo(0.999993745883712, 13)
    expect(fit.degrees).toBe(34)
  })

  it('agrees with simple-statistics on any line', () => {
    const value = fc.double({ min: -1e3, max: 1e3, noNaN: true })
    fc.assert(
      fc.property(fc.array(fc.tuple(value, value), { minLength: 3, maxLength: 40 }), (points) => {
        const xs = points.map(([, x]) => x)
        fc.pre(Math.max(...xs) - Math.min(...xs) > 1)
        const fit = line(points)
        const flipped = points.map(([y, x]) => [x, y])
        const known = linearRegression(flipped)
        expect(fit?.coefficients[1]).toBeCloseTo(known.m, 6)
        expect(fit?.coefficients[0]).toBeCloseTo(known.b, 6)
        if (fit?.r2 != null && fit.r2 > 1e-6)
          expect(fit.r2).toBeCloseTo(rSquared(flipped, linearRegressionLine(known)), 6)
      }),
    )
  })

  it('takes columns of very different size', () => {
    const rows = Array.from({ length: 20 }, (_, i) => [1, 2e7 + 1e5 * i, 300 + ((i * 7) % 5)])
    const fit = leastSquares(
      rows,
      rows.map(([, a, b]) => 5 + 3e-6 * a - 2 * b),
    )
    expect(fit?.coefficients[0]).toBeCloseTo(5, 6)
    expect(fit?.coefficients[1]).toBeCloseTo(3e-6, 12)
    expect(fit?.coefficients[2]).toBeCloseTo(-2, 8)
  })

  it('has no answer where columns depend on each other, or rows are too few', () => {
    const rows = Array.from({ length: 9 }, (_, i) => [1, i, 2 * i + 3])
    const y = rows.map(([, i]) => i)
    expect(leastSquares(rows, y)).toBeNull()
    expect(leastSquares([[1, 2]], [1])).toBeNull()
    expect(leastSquares([], [])).toBeNull()
    expect(
      leastSquares(
        [
          [1, 0],
          [1, 0],
          [1, 0],
        ],
        [1, 2, 3],
      ),
    ).toBeNull()
  })
})
