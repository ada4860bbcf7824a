import { describe, expect, it } from 'vitest'
import { writeCsv } from '@/app/_plant/habits'
import { machineFile } from '@/app/_plant/machine-file'
import { randomMachine } from '@/app/_plant/random-machine'
import { simulate } from '@/app/_plant/simulate'
import { analyseCsv, compare } from './against-truth'

/**
 * Fast and noisy: at 100 Hz with noise of 2 % of full scale a transition is many pieces of a few samples. None of
 * them may pass for a steady state: they pulled flow offsets to their limits and made sound pumps leak tenfold.
 */
const NOISE_PERCENT = 2
const NEAR_PERCENT = 1.5

describe.each([700, 701, 703])('machine %i at 100 Hz with 2 %% noise, all sensors', (seed) => {
  it('has the account and the offsets of the quiet one', async () => {
    const drawn = randomMachine(seed, 'c')
    const spec = {
      ...drawn,
      sensors: drawn.sensors.map((sensor) => ({ ...sensor, noisePercent: NOISE_PERCENT })),
    }
    const recorded = simulate(spec, { seed: seed + 3, durationS: 240, rateHz: 100 })
    const csv = writeCsv(recorded.recording, 'comma-iso', '2026-08-17T06:00:00')
    const analysis = await analyseCsv(csv, 'noisy.csv', machineFile(spec))
    const wrong = compare(analysis, recorded.truth).filter(
      ({ errorPercent, inside }) => !inside && Math.abs(errorPercent) > NEAR_PERCENT,
    )
    expect(wrong).toEqual([])
    const codes = analysis.reliefFit?.findings.map(({ code }) => code) ?? []
    expect(codes).toEqual([])
  })
})
