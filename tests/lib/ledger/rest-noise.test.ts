import { describe, expect, it } from 'vitest'
import { accountFor } from '@/lib/ledger/ledger'
import { at } from '@/lib/ledger/parameters'
import { noiseIn } from '@/lib/ledger/rest-noise'
import { W_PER_KW } from '@/lib/units'
import { HOLD, IDLE, METER, MOVE, OFF } from '../../laws/hand-duty'
import { HAND_MACHINE } from '../../laws/hand-machine'
import { handTrace, repeat } from '../../laws/hand-trace'

/** 20 s at rest at 5 Hz: a mean of 100 samples keeps a tenth of their noise (JCGM 100:2008, 4.2.3). */
const PIECES = [OFF, ...repeat([MOVE, METER, HOLD, IDLE], 3), OFF]
const SAMPLES = 100
const NOISE = 0.02
const FULL_SCALE_W = 50 * W_PER_KW
const POWER_OFFSET = at('powerOffset')

const ledgerWith = (noise: number, seed: number) =>
  accountFor(handTrace(PIECES, { fitted: ['systemFlow', 'power'], noise, seed, rateHz: 5 }), HAND_MACHINE)

describe('an offset that shows at rest', () => {
  it('is known no better than the noise leaves its mean', () => {
    const sdOf = (noise: number) => Math.sqrt(ledgerWith(noise, 3).covariance.get(POWER_OFFSET, POWER_OFFSET))
    expect(sdOf(NOISE)).toBeGreaterThan((0.85 * NOISE * FULL_SCALE_W) / Math.sqrt(SAMPLES))
    expect(sdOf(NOISE / 50)).toBeLessThan(0.5 * sdOf(NOISE))
  })

  it('lies within its interval about 95 times in 100', () => {
    const runs = Array.from({ length: 40 }, (_, k) => ledgerWith(NOISE, 100 + k))
    const inside = runs.filter(
      ({ values, covariance }) =>
        Math.abs(values[POWER_OFFSET]) <= 1.96 * Math.sqrt(covariance.get(POWER_OFFSET, POWER_OFFSET)),
    )
    expect(inside.length).toBeGreaterThanOrEqual(35)
  })

  it('rests on the noise at rest alone, whatever happens while the machine works', () => {
    const { segmentation, sensors } = ledgerWith(NOISE, 7)
    const values = sensors.power?.values ?? new Float64Array(0)
    const stopped = segmentation.steps.filter(({ kind }) => kind === 'stopped')
    expect(noiseIn({ values }, stopped) / (NOISE * FULL_SCALE_W)).toBeGreaterThan(0.75)
    expect(noiseIn({ values }, stopped) / (NOISE * FULL_SCALE_W)).toBeLessThan(1.25)
    expect(noiseIn({ values }, [])).toBe(0)
  })
})
