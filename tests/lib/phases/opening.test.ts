import { describe, expect, it } from 'vitest'
import { fullFlowM3S, machineModel } from '@/lib/machine/machine-model'
import { openingPa } from '@/lib/phases/opening'
import { meansBy, type Stretch } from '@/lib/phases/stretch'
import { M3S_PER_LPM, PA_PER_BAR } from '@/lib/units'
import { HAND_MACHINE, handFlowLpm } from '../../laws/hand-machine'

const MODEL = machineModel(HAND_MACHINE)
const DEAD_HEAD_PA = 160 * PA_PER_BAR
const SOUND_PA = 0.88 * DEAD_HEAD_PA

const SILENT = meansBy(() => Number.NaN)

const stretch = (bar: number, lpm: number): Stretch => ({
  from: 0,
  to: 50,
  durationS: 5,
  afterGap: false,
  peakLoadPa: Number.NaN,
  means: { ...SILENT, pumpPressurePa: bar * PA_PER_BAR, systemFlowM3S: lpm * M3S_PER_LPM },
})

/** Line flow beside a relief that cracks at `opensBar` and takes all at 160 bar, worked out by hand. */
const besideRelief = (opensBar: number) => (bar: number) => {
  const all = handFlowLpm(160)
  return handFlowLpm(bar) - (bar > opensBar ? (all * (bar - opensBar)) / (160 - opensBar) : 0)
}
/** Line flow of a pump that leaks so many times as much as a new one (4.5 L/min at 160 bar). */
const wornPump = (times: number) => (bar: number) => handFlowLpm(bar) - ((times - 1) * 4.5 * bar) / 160

const found = (flow: (bar: number) => number, bars: readonly number[]) => {
  const pa = openingPa(
    bars.map((bar) => stretch(bar, flow(bar))),
    MODEL,
    DEAD_HEAD_PA,
    SOUND_PA,
  )
  return pa === null ? null : pa / PA_PER_BAR
}

describe('a relief seen with one meter in the system line', () => {
  it('the hand-worked pump is the model’s', () => {
    expect(fullFlowM3S(MODEL, 80 * PA_PER_BAR) / M3S_PER_LPM).toBeCloseTo(handFlowLpm(80), 0)
  })

  it.each([80, 96, 110])('opens at %d bar and is found within 3 bar', (opensBar) => {
    const at = found(besideRelief(opensBar), [20, 60, 100, 115, 130])
    expect(Math.abs((at ?? 0) - opensBar)).toBeLessThan(3)
  })

  it('one level above cracking is enough where it misses much', () => {
    expect(Math.abs((found(besideRelief(90), [30, 40, 120]) ?? 0) - 90)).toBeLessThan(5)
  })

  it.each([1, 2, 3, 3.5])('a pump that leaks %d times as much is no relief', (times) => {
    expect(found(wornPump(times), [20, 60, 100, 115, 130])).toBeNull()
  })

  it('a sound relief is seen to open where it does, between the levels on either side', () => {
    const at = found(besideRelief(150), [20, 60, 100, 130, 145, 152, 155]) ?? 0
    expect(at).toBeGreaterThan(145)
    expect(at).toBeLessThan(152)
  })

  it.each([1, 2, 3])(
    'nothing opens below the highest level of a pump that leaks %d times as much',
    (times) => {
      const at = found(wornPump(times), [100, 120, 143, 148, 152]) ?? 0
      expect(at).toBeGreaterThan(152)
      expect(at).toBeLessThan(155)
    },
  )

  it('a single level above tells nothing of where', () => {
    expect(found(besideRelief(150), [20, 60, 100, 130, 152])).toBeNull()
  })

  it('low levels alone say nothing', () => {
    expect(found(besideRelief(100), [20, 40, 60, 90])).toBeNull()
    expect(found(besideRelief(100), [])).toBeNull()
  })
})
