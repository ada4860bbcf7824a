import { describe, expect, it } from 'vitest'
import { replayAll } from '@/lib/options/replay'
import { movedAlong } from '@/lib/options/shared-doubt'
import { ledgerOf, planOf } from './hand-options'

const ledger = ledgerOf()
const IDS = ['vent-relief-at-idle', 'open-centre-unloading', 'second-relief-setting', 'efficient-motor']
const changes = IDS.map((id) => {
  const { change } = planOf(id, ledger)
  if (!change) throw new Error(id)
  return { change }
})
const replayed = replayAll(ledger, changes, [])
const [vent, openCentre, second, motor] = replayed

describe('how far savings move together', () => {
  it('two ways to the same saving move as one, but for the misfit of each replay', () => {
    expect(movedAlong(vent, openCentre)).toBeGreaterThan(0.9)
    expect(movedAlong(vent, openCentre)).toBeLessThanOrEqual(1)
  })
  it('the covariance is the same either way: slopes times their own variances', () => {
    const variance = (of: (typeof replayed)[number]) => {
      const along = movedAlong(of, of)
      const { replaySd, optionSd } = of.grounds
      // Of itself all is shared but the own misfit: shared = along · variance, variance = shared + own.
      return (replaySd ** 2 + optionSd ** 2) / (1 - along)
    }
    for (const [one, other] of [
      [vent, second],
      [second, motor],
      [vent, motor],
    ]) {
      const there = movedAlong(one, other) * variance(one)
      const back = movedAlong(other, one) * variance(other)
      expect(there / back).toBeCloseTo(1, 6)
    }
  })
  it('never more than the two spreads together allow', () => {
    for (const one of replayed) {
      for (const other of replayed) {
        const square = movedAlong(one, other) * movedAlong(other, one)
        expect(square).toBeLessThanOrEqual(1 + 1e-9)
      }
    }
  })
})
