import { describe, expect, it } from 'vitest'
import { offsetsShownAtRest } from '@/lib/ledger/at-rest'
import { ledgerKWh } from '@/lib/ledger/estimates'
import { accountFor } from '@/lib/ledger/ledger'
import { machineModel } from '@/lib/machine/machine-model'
import { segment } from '@/lib/phases/segment'
import { readSensors } from '@/lib/samples/sensors'
import type { FullTrace } from '@/lib/samples/trace'
import { IDLE, METER, MOVE, OFF } from '../../laws/hand-duty'
import { HAND_MACHINE } from '../../laws/hand-machine'
import { handTrace, repeat } from '../../laws/hand-trace'

/** True-rms meters show the size of their noise and cut small readings off (common practice, no source). */
const PIECES = [OFF, ...repeat([IDLE, MOVE, METER], 6)]
const OFF_SAMPLES = OFF.seconds * 10

const logged = (offsetKW: number, noise: number) =>
  handTrace(PIECES, { fitted: ['systemFlow', 'power'], noise, seed: 3, offsets: { power: offsetKW } })

/** The same log with other readings of power while the motor stands. */
function atRest(trace: FullTrace, read: (watts: number) => number): FullTrace {
  const channels = trace.channels.map((channel) =>
    channel.quantity === 'power'
      ? { ...channel, values: channel.values.map((watts, i) => (i < OFF_SAMPLES ? read(watts) : watts)) }
      : channel,
  )
  return { ...trace, channels }
}

function shown(trace: FullTrace) {
  const sensors = readSensors(trace)
  return offsetsShownAtRest(segment(sensors, trace, machineModel(HAND_MACHINE)).steps, sensors)
}

const inputOf = (trace: FullTrace) => {
  const { value, low, high } = ledgerKWh(accountFor(trace, HAND_MACHINE)).electricIn
  return { value, half: (high - low) / 2, low, high }
}

describe('what a sensor shows while the motor stands', () => {
  it('is its offset where readings lie on both sides of nil, or clear of it', () => {
    expect(shown(logged(0, 0.001)).has('power')).toBe(true)
    expect(shown(logged(0.25, 0.001)).has('power')).toBe(true)
    expect(shown(atRest(logged(0.25, 0), () => 250)).has('power')).toBe(true)
  })

  it('is none where a meter cuts small readings off or shows the size of its noise', () => {
    expect(shown(atRest(logged(0.25, 0.001), () => 0)).has('power')).toBe(false)
    expect(shown(atRest(logged(0, 0.001), Math.abs)).has('power')).toBe(false)
  })

  it('then the interval of the input is the sensor’s own, and holds the truth', () => {
    const truth = inputOf(logged(0, 0)).value
    const signed = inputOf(logged(0.25, 0.001))
    const cut = inputOf(atRest(logged(0.25, 0.001), () => 0))
    expect(signed.value).toBeCloseTo(truth, 1)
    expect(cut.half).toBeGreaterThan(3 * signed.half)
    expect(cut.low).toBeLessThan(truth)
    expect(cut.high).toBeGreaterThan(truth)
  })
})
