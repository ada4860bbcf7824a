import { describe, expect, it } from 'vitest'
import { circuitAt, circuitAtShaft } from './textbook-circuit'

/** Slip, A, power factor, W in: recomputed outside this project; s = 2.2 % also published (18.88 A, .833, 12.53 kW). */
describe('the textbook circuit as solved in these tests', () => {
  it.each([
    [0.00189, 9.767, 0.1652, 1286],
    [0.005, 10.351, 0.3742, 3086],
    [0.01, 12.214, 0.6102, 5938],
    [0.022, 18.892, 0.8321, 12_525],
    [0.03, 23.863, 0.8776, 16_686],
  ])('slip %f: %f A, power factor %f, %f W', (slip, amps, cosine, watts) => {
    const point = circuitAt(slip)
    expect(point.currentA).toBeCloseTo(amps, 2)
    expect(point.powerFactor).toBeCloseTo(cosine, 3)
    // The published slip without load has three digits.
    expect(Math.abs(point.inputW / watts - 1)).toBeLessThan(0.0015)
  })
  it('gives 10,478 W and 56.8 Nm on the shaft at 2.2 %, and finds its slip by shaft power', () => {
    expect(circuitAt(0.022).shaftW).toBeCloseTo(10_478, -1)
    expect(circuitAt(0.022).torqueNm).toBeCloseTo(56.8, 1)
    expect(circuitAtShaft(circuitAt(0.015).shaftW).slip).toBeCloseTo(0.015, 9)
  })
})
