import { Matrix } from 'ml-matrix'
import { describe, expect, it } from 'vitest'
import { packParts, unpackParts } from '@/lib/explain/pack-parts'
import { closedParts, evenPart, partsOfSum, reachOfParts, scaledParts, toldParts } from '@/lib/explain/parts'
import { at, PARAMETERS } from '@/lib/ledger/parameters'
import { BENDING, COVERAGE, reachOfSum, type Sensitivity } from '@/lib/ledger/propagate'

/**
 * JCGM 100:2008, H.2: resistance R, reactance X and impedance Z from simultaneous readings of V, I and φ that are
 * correlated; published combined standard uncertainties 0.071, 0.295 and 0.236 Ω. Three parameters stand in for V, I, φ.
 */
const V = 4.999
const I = 19.661e-3
const PHI = 1.04446
const SD = [0.0032, 0.0095e-3, 0.00075]
const R = [
  [1, -0.36, 0.86],
  [-0.36, 1, -0.65],
  [0.86, -0.65, 1],
]
const PUBLISHED = [0.071, 0.295, 0.236]
const NAMES = ['pumpPressureOffset', 'currentOffset', 'voltage'] as const

function impedance(): Sensitivity {
  const covariance = Matrix.zeros(PARAMETERS.length, PARAMETERS.length)
  const rows = PARAMETERS.map(() => new Float64Array(3))
  NAMES.forEach((one, a) => {
    NAMES.forEach((other, b) => {
      covariance.set(at(one), at(other), R[a][b] * SD[a] * SD[b])
    })
  })
  const cos = Math.cos(PHI)
  const sin = Math.sin(PHI)
  rows[at('pumpPressureOffset')].set([cos / I, sin / I, 1 / I])
  rows[at('currentOffset')].set([(-V * cos) / I ** 2, (-V * sin) / I ** 2, -V / I ** 2])
  rows[at('voltage')].set([(-V * sin) / I, (V * cos) / I, 0])
  const none = (): [Float64Array, Float64Array] => [new Float64Array(3), new Float64Array(3)]
  return { rows, covariance, reliefEnds: BENDING.map(none), own: [], doubts: [] }
}

describe('marginal contributions', () => {
  it.each([0, 1, 2])('result %i: together they are the published combined uncertainty', (k) => {
    const parts = partsOfSum(impedance(), new Map([[k, 1]]))
    const { below, above } = reachOfParts(parts)
    expect(above).toBe(below)
    // The table gives inputs to two digits, so the results agree to about one part in fifty.
    expect(Math.abs(above / COVERAGE / PUBLISHED[k] - 1)).toBeLessThan(0.02)
  })

  it('say what would be gone with one of them known: the variance given the others', () => {
    // With φ known, the variance left of Z is that of V and I given φ: r(V,I·φ) worked out from the same table.
    const parts = partsOfSum(impedance(), new Map([[2, 1]]))
    const known = parts.find(({ source }) => source === 'voltage')?.known ?? 0
    const total = reachOfParts(parts).above ** 2
    const slope = [1 / I, -V / I ** 2]
    const given = (a: number, b: number) => (R[a][b] - R[a][2] * R[b][2]) * SD[a] * SD[b]
    const left =
      slope[0] ** 2 * given(0, 0) + 2 * slope[0] * slope[1] * given(0, 1) + slope[1] ** 2 * given(1, 1)
    expect((total - known) / COVERAGE ** 2 / left).toBeCloseTo(1, 9)
  })

  it('agree with reachOfSum where ends are uneven and results have a covariance of their own', () => {
    const of = impedance()
    const reliefEnds = BENDING.map((_, j): [Float64Array, Float64Array] => [
      Float64Array.from([-0.1 * (j + 1), 0.02, 0]),
      Float64Array.from([0.4, 0.3, 0.1 * j]),
    ])
    const full = {
      ...of,
      reliefEnds,
      own: [{ source: 'edges' as const, covariance: Matrix.eye(3).mul(0.01) }],
    }
    const weights = new Map([
      [0, 1],
      [1, -2],
    ])
    const parts = partsOfSum(full, weights)
    const reach = reachOfSum(full, weights)
    expect(reachOfParts(parts).below / reach.below).toBeCloseTo(1, 9)
    expect(reachOfParts(parts).above / reach.above).toBeCloseTo(1, 9)
    expect(reach.below).not.toBeCloseTo(reach.above, 2)
  })
})

describe('parts', () => {
  const parts = [
    evenPart('voltage', 3),
    evenPart('edges', 4),
    { source: 'leakage', below: -1, above: -1, known: 0 },
  ] as const

  it('told, are largest first and their shares add up to 1', () => {
    const told = toldParts(parts, () => null)
    expect(told.map(({ source }) => source)).toEqual(['edges', 'voltage', 'leakage'])
    expect(told.reduce((sum, { shareOfVariance }) => sum + shareOfVariance, 0)).toBeCloseTo(1, 12)
    expect(told[2].shareOfVariance).toBeCloseTo(-1 / 24, 12)
  })

  it('turn over with a negative factor', () => {
    const [part] = scaledParts([{ source: 'reliefSpan', below: 1, above: 5, known: 13 }], -2)
    expect(part).toMatchObject({ below: 10, above: 2, known: 52 })
  })

  it('leave what the shown interval does not hold, and what it holds more, as a part of its own', () => {
    const closed = closedParts([evenPart('voltage', 5)], { value: 0, low: -5, high: 3 }, 'nothing-beyond-all')
    expect(closed).toHaveLength(2)
    expect(closed[1]).toMatchObject({ source: 'nothing-beyond-all', below: 0, above: -4 })
    expect(closedParts(parts, { value: 0, low: -Math.sqrt(24), high: Math.sqrt(24) }, 'rest')).toHaveLength(3)
  })

  it('keep their sum when packed, the small ones together', () => {
    const many = [...parts, evenPart('form', 0.01), evenPart('lossTorque', 0.02)]
    const packed = packParts(many)
    expect(packed.map(([source]) => source)).toEqual(['voltage', 'edges', 'leakage', 'rest'])
    expect(reachOfParts(unpackParts(packed)).above).toBeCloseTo(reachOfParts(many).above, 4)
  })
})

describe('what widens results beside the parameters', () => {
  it('is told source by source, and adds up as the interval does', () => {
    const own = [
      { source: 'edges' as const, covariance: Matrix.eye(3).mul(0.01) },
      { source: 'auxiliaries' as const, covariance: Matrix.eye(3).mul(0.04) },
    ]
    const of = { ...impedance(), own }
    const parts = partsOfSum(of, new Map([[1, 1]]))
    const half = (source: string) => parts.find((part) => part.source === source)?.above
    expect(half('edges')).toBeCloseTo(COVERAGE * 0.1, 12)
    expect(half('auxiliaries')).toBeCloseTo(COVERAGE * 0.2, 12)
    expect(reachOfParts(parts).above).toBeCloseTo(reachOfSum(of, new Map([[1, 1]])).above, 12)
  })
})
