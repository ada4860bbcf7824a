import { describe, expect, it } from 'vitest'
import { sensorProblems } from '@/lib/ledger/sensor-problems'
import { machineModel } from '@/lib/machine/machine-model'
import { segment } from '@/lib/phases/segment'
import { readSensors } from '@/lib/samples/sensors'
import { IDLE, METER, MOVE } from '../../laws/hand-duty'
import { HAND_MACHINE } from '../../laws/hand-machine'
import { handTrace, repeat } from '../../laws/hand-trace'

/** Faults put into one sensor of the hand-worked machine by hand. */
const trace = () =>
  handTrace([...repeat([IDLE, MOVE, METER, { ...MOVE, seconds: 4 }], 8), IDLE], {
    fitted: ['systemFlow', 'current'],
    noise: 0.001,
  })
const problemsOf = (change: (current: Float64Array, flow: Float64Array) => void) => {
  const log = trace()
  change(log.channels[2].values, log.channels[1].values)
  const sensors = readSensors(log)
  const segmentation = segment(sensors, log, machineModel(HAND_MACHINE))
  return {
    problems: sensorProblems({ sensors, segmentation }),
    kinds: segmentation.phases.map(({ kind }) => kind),
  }
}

describe('sensors that cannot be taken at their word', () => {
  const healthy = problemsOf(() => undefined)
  it('healthy ones are not named', () => {
    expect(healthy.problems).toEqual([])
  })

  it('spikes and a stuck stretch are named, and make and hide no phases', () => {
    const spiked = problemsOf((current) => {
      current[50] = 900
    })
    expect(spiked.problems).toMatchObject([{ code: 'sensor-spike', column: 'current', count: 1 }])
    expect(spiked.kinds).toEqual(healthy.kinds)
    const stuck = problemsOf((current) => current.fill(current[300], 300, 1600))
    expect(stuck.problems).toMatchObject([{ code: 'sensor-stuck', column: 'current' }])
    expect(stuck.kinds).toEqual(healthy.kinds)
  })

  it('a slow meter is named and moves no boundary', () => {
    const slow = problemsOf((_current, flow) => {
      for (let i = 1; i < flow.length; i++) flow[i] = flow[i - 1] + 0.08 * (flow[i] - flow[i - 1])
    })
    expect(slow.problems).toMatchObject([{ code: 'sensor-slow', column: 'systemFlow' }])
    expect(slow.kinds).toEqual(healthy.kinds)
  })
})
