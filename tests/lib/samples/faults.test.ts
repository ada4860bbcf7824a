import { describe, expect, it } from 'vitest'
import { normal, seededRandom } from '@/lib/numeric/random'
import { takeOutSpikes, takeOutStuck } from '@/lib/samples/faults'
import type { Sensor } from '@/lib/samples/sensors'

/** What a faulty sensor is, is the project's own rule; the faults are put in by hand. */
const swinging = (count: number, seed: number): Float64Array => {
  const random = seededRandom(seed)
  return Float64Array.from({ length: count }, (_, i) => (i % 60 < 30 ? 10 : 90) + 0.2 * normal(random))
}
const sensor = (column: string, values: Float64Array): Sensor => ({ column, values, limit: 1 })
const times = (count: number, sampleIntervalS: number) => ({
  timeS: Float64Array.from({ length: count }, (_, i) => i * sampleIntervalS),
  holdS: new Float64Array(count).fill(sampleIntervalS),
  sampleIntervalS,
})

const takeOutFaults = (sensors: readonly Sensor[], at: ReturnType<typeof times>) => [
  ...takeOutSpikes(sensors, at),
  ...takeOutStuck(sensors, at),
]

describe('faults of sensors', () => {
  it('a healthy pair has none and is left as it is', () => {
    const values = swinging(3000, 1)
    const kept = Float64Array.from(values)
    expect(takeOutFaults([sensor('a', values), sensor('b', swinging(3000, 2))], times(3000, 0.25))).toEqual(
      [],
    )
    expect(values).toEqual(kept)
  })

  it.each([0.01, 0.25, 1])(
    'single-sample spikes of either sign are held over, sampled every %f s',
    (intervalS) => {
      const values = swinging(3000, 1)
      values[100] = 400
      values[745] = -60
      const faults = takeOutFaults(
        [sensor('a', values), sensor('b', swinging(3000, 2))],
        times(3000, intervalS),
      )
      expect(faults).toHaveLength(1)
      expect(faults[0]).toMatchObject({
        code: 'sensor-spike',
        column: 'a',
        count: 2,
        startS: 100 * intervalS,
      })
      expect(values[100]).toBe(values[99])
      expect(values[745]).toBe(values[744])
    },
  )

  it('a quiet reading on coarse steps that flips for a sample has no spike; one of many steps is one', () => {
    const random = seededRandom(4)
    // A display in steps of half a bar, its last digit not quite at rest.
    const coarse = Float64Array.from(
      { length: 3000 },
      () => 0.5 * Math.round((120.1 + 0.12 * normal(random)) / 0.5),
    )
    expect(new Set(coarse).size).toBeGreaterThan(1)
    expect(takeOutFaults([sensor('coarse', coarse)], times(3000, 0.02))).toEqual([])
    coarse[700] = 140
    expect(takeOutFaults([sensor('coarse', coarse)], times(3000, 0.02))).toMatchObject([
      { code: 'sensor-spike', count: 1 },
    ])
  })

  it('what two sensors show in one slow sample is no spike', () => {
    const [a, b] = [swinging(3000, 1), swinging(3000, 2)]
    a[100] = 400
    b[100] = 400
    expect(takeOutFaults([sensor('a', a), sensor('b', b)], times(3000, 1))).toEqual([])
  })

  it('one number while the other swings is a stuck sensor; the same in a quiet pair is not', () => {
    const stuck = swinging(3000, 1)
    stuck.fill(stuck[999], 1000, 1600)
    const faults = takeOutFaults([sensor('a', stuck), sensor('b', swinging(3000, 2))], times(3000, 0.25))
    expect(faults).toMatchObject([{ code: 'sensor-stuck', column: 'a', count: 601 }])
    expect(stuck.subarray(1000, 1600).every(Number.isNaN)).toBe(true)
    const [quiet, beside] = [swinging(3000, 1), swinging(3000, 2)]
    quiet.fill(10, 1000, 1600)
    for (let i = 1000; i < 1600; i++) beside[i] = 10 + (i % 2) / 10
    expect(takeOutFaults([sensor('a', quiet), sensor('b', beside)], times(3000, 0.25))).toEqual([])
  })

  it('one number while as many others rest is a machine at rest: a load that comes and goes alone proves nothing', () => {
    const resting = (seed: number) => {
      const values = swinging(3000, seed)
      return values.fill(values[999], 1000, 1600)
    }
    const trio = [sensor('a', resting(1)), sensor('b', resting(2)), sensor('load', swinging(3000, 3))]
    expect(takeOutFaults(trio, times(3000, 0.25))).toEqual([])
    const [alone, ...others] = [sensor('a', resting(1)), sensor('b', swinging(3000, 2)), trio[2]]
    expect(takeOutFaults([alone, ...others], times(3000, 0.25))).toMatchObject([
      { code: 'sensor-stuck', column: 'a', count: 601 },
    ])
  })
})
