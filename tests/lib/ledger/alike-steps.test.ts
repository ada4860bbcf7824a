import { describe, expect, it } from 'vitest'
import { alikeSteps } from '@/lib/ledger/alike-steps'
import { accountFor, curveWith, electricOfStepJ, type Ledger } from '@/lib/ledger/ledger'
import { modelWith, PARAMETERS } from '@/lib/ledger/parameters'
import { isSteady } from '@/lib/ledger/step-frame'
import { totalsOfAlike } from '@/lib/ledger/totals'
import { fittedMeans } from '@/lib/phases/stretch'
import { HOLD, IDLE, METER, MOVE, OFF } from '../../laws/hand-duty'
import { HAND_MACHINE } from '../../laws/hand-machine'
import { handTrace, type MeterName, repeat } from '../../laws/hand-trace'

const DUTY = [OFF, ...repeat([IDLE, MOVE, HOLD, METER], 30), OFF]

/** How the totals answer to a move of every parameter, from groups of steps or from each step by itself. */
function answers(ledger: Ledger, grouped: boolean): Float64Array[] {
  const { segmentation, sensors, machine, model, curve, values, covariance, currentLimitA } = ledger
  const groups = grouped
    ? alikeSteps(segmentation.steps, fittedMeans(sensors), model)
    : segmentation.steps.map((step) => {
        const { kind, durationS, means } = step
        return { kind, durationS, means, isSteady: isSteady(step) }
      })
  const totals = (moved: Float64Array) =>
    totalsOfAlike(groups, modelWith(machine, moved), curveWith(curve, moved, values), moved, currentLimitA)
  const central = totals(values)
  return PARAMETERS.map((_, k) => {
    const moved = Float64Array.from(values)
    moved[k] += Math.sqrt(covariance.get(k, k))
    return totals(moved).map((value, i) => value - central[i])
  })
}

describe('steps with like readings put together', () => {
  const suites: MeterName[][] = [
    ['systemFlow', 'current'],
    ['pumpFlow', 'current'],
    ['loadPressure', 'systemFlow', 'power'],
  ]
  it.each(suites)('answer to every parameter as the steps do one by one: %s, %s', (...fitted) => {
    const ledger = accountFor(handTrace(DUTY, { fitted, noise: 0.004, seed: 3 }), HAND_MACHINE)
    const together = answers(ledger, true)
    const alone = answers(ledger, false)
    const inputJ = ledger.segmentation.steps.reduce((sum, _, k) => sum + electricOfStepJ(ledger, k), 0)
    PARAMETERS.forEach((name, k) => {
      const misses = alone[k].map((value, i) => Math.abs(value - together[k][i]) / inputJ)
      const known = misses.filter((miss) => !Number.isNaN(miss))
      expect(known.length, name).toBeGreaterThan(0)
      expect(Math.max(...known), name).toBeLessThan(2e-4)
    })
  })

  it('are far fewer than the steps, last as long and keep unlike kinds apart', () => {
    const fitted: MeterName[] = ['systemFlow', 'current']
    const ledger = accountFor(handTrace(DUTY, { fitted, noise: 0.002, seed: 3 }), HAND_MACHINE)
    const { steps } = ledger.segmentation
    const groups = alikeSteps(steps, fittedMeans(ledger.sensors), ledger.model)
    const seconds = (list: readonly { durationS: number; kind: string }[], kind: string) =>
      list.reduce((sum, one) => sum + (one.kind === kind ? one.durationS : 0), 0)
    expect(groups.length).toBeLessThan(steps.length / 2)
    for (const kind of new Set(steps.map((step) => step.kind))) {
      expect(seconds(groups, kind)).toBeCloseTo(seconds(steps, kind), 9)
    }
  })
})
