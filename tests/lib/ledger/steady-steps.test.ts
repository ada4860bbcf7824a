import { describe, expect, it } from 'vitest'
import { steadySteps } from '@/lib/ledger/steady-steps'
import { meansBy, type Step } from '@/lib/phases/stretch'

const step = (kind: Step['kind'], from: number, samples: number, intervalS: number): Step => ({
  from,
  to: from + samples,
  durationS: samples * intervalS,
  afterGap: false,
  kind,
  means: meansBy(() => 1),
  peakLoadPa: Number.NaN,
})

describe('steps whose readings belong together', () => {
  it('at 100 Hz pieces of a transition are none, however many samples they have', () => {
    const pieces = [1, 3, 5, 20].map((samples, k) => step('work-moving', 100 * k, samples, 0.01))
    const stroke = step('work-moving', 1000, 200, 0.01)
    expect(steadySteps([...pieces, stroke])).toEqual([stroke])
  })

  it('a step of half a second is one, and needs three samples where sampling is slow', () => {
    const steps = [
      step('idle-loaded', 0, 50, 0.01),
      step('idle-loaded', 50, 3, 0.2),
      step('idle-loaded', 60, 2, 1),
    ]
    expect(steadySteps(steps)).toEqual(steps.slice(0, 2))
  })

  it('of a kind that never lasts longer, the longest stand in', () => {
    const holds = [step('work-holding', 0, 30, 0.01), step('work-holding', 40, 20, 0.01)]
    const idle = step('idle-loaded', 100, 1000, 0.01)
    expect(steadySteps([...holds, idle])).toEqual([holds[0], idle])
  })
})
