import { describe, expect, it } from 'vitest'
import { lowestRecurringPa } from '@/lib/phases/recurring'
import { MEAN_NAMES, type Stretch, type StretchMeans } from '@/lib/phases/stretch'
import { PA_PER_BAR } from '@/lib/units'

const silent = Object.fromEntries(MEAN_NAMES.map((name) => [name, Number.NaN])) as unknown as StretchMeans
const at = (bar: number, durationS = 8): Stretch => ({
  from: 0,
  to: 80,
  durationS,
  afterGap: false,
  peakLoadPa: Number.NaN,
  means: { ...silent, pumpPressurePa: bar * PA_PER_BAR },
})
const DEAD_HEAD_PA = 180 * PA_PER_BAR
const LIMITS = { deadHeadPa: DEAD_HEAD_PA, soundPa: 158.4 * PA_PER_BAR, unloadedPa: 5 * PA_PER_BAR }
/** Loads that are a little different every time. */
const LOADS = [39, 46.5, 44, 52].map((bar) => at(bar, 3))
const lowestBar = (stretches: readonly Stretch[], noiseBar = 0, loads: readonly Stretch[] = LOADS) => {
  const pa = lowestRecurringPa([...stretches, ...loads], LIMITS, () => noiseBar * PA_PER_BAR)
  return pa === null ? null : pa / PA_PER_BAR
}

describe('a level below where valves open that comes back alike', () => {
  it('is told from loads that are a little different every time', () => {
    expect(lowestBar([at(140), at(140.2), at(139.9), at(80), at(83), at(78)])).toBeCloseTo(139.9 - 1.8, 6)
    expect(lowestBar([at(136), at(140.2), at(144), at(132)])).toBeNull()
  })

  it('has to come back three times, in stretches that last', () => {
    expect(lowestBar([at(140), at(140.2)])).toBeNull()
    expect(lowestBar([at(140, 1), at(140.2, 1), at(140.1, 1)])).toBeNull()
  })

  it('tells nothing on a machine whose loads all come back alike', () => {
    const alike = [45, 45, 45.1, 45].map((bar) => at(bar, 3))
    expect(lowestBar([at(140), at(140.2), at(139.9)], 0, alike)).toBeNull()
    expect(lowestBar([at(140), at(140.2), at(139.9)], 0, [])).toBeNull()
  })

  it('may scatter by noise as well', () => {
    const levels = [at(140), at(141.5), at(142.8), at(138.8)]
    expect(lowestBar(levels)).toBeNull()
    expect(lowestBar(levels, 2)).not.toBeNull()
  })

  it('is none where loads fill most of the time above it', () => {
    expect(lowestBar([at(100), at(100.1), at(100.2), at(150, 20), at(140, 20), at(128, 20)])).toBeNull()
  })

  it('is none where pieces of a load that rises fill the time above it, however short', () => {
    const rising = [110, 118, 125, 133, 140, 150].map((bar) => at(bar, 1.2))
    const level = [100, 100.1, 100.2].map((bar) => at(bar, 4))
    expect(lowestBar(level)).toBeCloseTo(100 - 1.8, 6)
    expect(lowestBar([...level, ...rising])).toBeNull()
  })

  it('is none where another stretch lies near that is not of it', () => {
    expect(lowestBar([at(140), at(140.1), at(140.2), at(140.1), at(134, 3)])).toBeNull()
  })

  it('is the lowest of several', () => {
    const levels = [150, 150.1, 150.2, 130, 130.1, 130.2]
    expect(lowestBar(levels.map((bar) => at(bar)))).toBeCloseTo(130 - 1.8, 6)
  })
})
