import { describe, expect, it } from 'vitest'
import { accountFor } from '@/lib/ledger/ledger'
import { checkModel } from '@/lib/ledger/model-check'
import { pumpShaftW } from '@/lib/machine/machine-model'
import { IDLE, METER, MOVE, OFF, UNLOADED } from '../../laws/hand-duty'
import { HAND_MACHINE, handInputKW, handRunKW } from '../../laws/hand-machine'
import { handTrace, type MeterName, type Piece, repeat } from '../../laws/hand-trace'

/**
 * ASHRAE Guideline 14-2014: NMBE = Σ(model − measured)/((n − p)·mean measured), CV(RMSE) =
 * √(Σ(model − measured)²/(n − p))/mean measured, p = 1 (denominator from memory). Worked here over
 * one-minute pieces, the averaging interval of a log of ten minutes and more.
 */
const MINUTE: Piece = { ...IDLE, seconds: 60 }
const LOW: Piece = { ...MOVE, seconds: 60 }
const FITTED: readonly MeterName[] = ['loadPressure', 'systemFlow', 'power']

const checked = (pieces: readonly Piece[], fitted = FITTED) => {
  const ledger = accountFor(handTrace(pieces, { fitted }), HAND_MACHINE)
  return { ledger, check: checkModel(ledger) }
}

describe('model against logged input', () => {
  it('a log that the model made is met exactly', () => {
    const { check } = checked(repeat([MINUTE, LOW], 6))
    expect(check.averagingIntervalS).toBe(60)
    expect(check.againstMeasuredPower).toBe(true)
    expect(Math.abs(check.nmbe ?? 1)).toBeLessThan(1e-6)
    expect(check.cvRmse ?? 1).toBeLessThan(1e-6)
    expect(check.trusted).toBe(true)
  })

  it('gives the guideline’s figures of a log that wanders about the model', () => {
    const shares = [1.06, 0.97, 1.02, 0.93, 1.05, 0.99, 1.01, 0.96, 1.04, 0.98, 1, 1.03]
    const pieces = shares.map((share, i): Piece => {
      const piece = i % 2 === 0 ? MINUTE : LOW
      return { ...piece, kW: share * handRunKW(piece.bar) }
    })
    const { ledger, check } = checked(pieces)
    // The model after it was fitted to the log, minute by minute; the arithmetic is done here by hand.
    const modelKW = pieces.map(({ bar }) => {
      const offset = ledger.values[0] / 1e5
      const shaftW = pumpShaftW(ledger.model, (bar - offset) * 1e5)
      return (shaftW + ledger.model.motor.lossW(shaftW)) / 1000
    })
    const loggedKW = pieces.map(({ kW = 0 }) => kW - ledger.values[6] / 1000)
    const n = pieces.length
    const mean = loggedKW.reduce((sum, kW) => sum + kW, 0) / n
    const misses = modelKW.map((kW, i) => kW - loggedKW[i])
    const nmbe = misses.reduce((sum, miss) => sum + miss, 0) / ((n - 1) * mean)
    const cvRmse = Math.sqrt(misses.reduce((sum, miss) => sum + miss * miss, 0) / (n - 1)) / mean
    expect(check.nmbe).toBeCloseTo(nmbe, 6)
    expect(check.cvRmse).toBeCloseTo(cvRmse, 6)
    // The log's own wander is 3.7 % of its mean: the model cannot follow it.
    expect(check.cvRmse).toBeGreaterThan(0.02)
    expect(check.cvRmse).toBeLessThan(0.06)
    expect(check.trusted).toBe(true)
  })

  it('a pump that takes twice what any model of it does is not trusted', () => {
    const pieces = repeat([MINUTE, LOW], 6).map(
      (piece, i): Piece => ({ ...piece, kW: (i % 4 < 2 ? 1.9 : 0.5) * handRunKW(piece.bar) }),
    )
    const { check } = checked(pieces)
    expect(check.trusted).toBe(false)
    expect(check.cvRmse).toBeGreaterThan(0.3)
  })

  it('with current alone two models are compared: said so, trusted only well above half load', () => {
    const loaded = checked(repeat([MINUTE, MINUTE, LOW], 4), ['systemFlow', 'current']).check
    expect(loaded.againstMeasuredPower).toBe(false)
    expect(loaded.trusted).toBe(true)
    const light = { ...LOW, bar: 30, systemLpm: 90 - (4.5 * 30) / 160, loadBar: 20 }
    const idle = checked(repeat([light, light, MINUTE], 4), ['systemFlow', 'current']).check
    expect(idle.againstMeasuredPower).toBe(false)
    expect(idle.trusted).toBe(false)
  })

  it('a log of ten minutes has ten averaging intervals of a minute', () => {
    expect(checked(repeat([MINUTE, LOW], 5)).check.averagingIntervalS).toBe(60)
    expect(checked(repeat([MINUTE, LOW], 4)).check.averagingIntervalS).toBe(10)
  })

  it('short logs are averaged over ten seconds; stopped time counts for nothing', () => {
    const { check } = checked([...repeat([IDLE, MOVE, METER], 4), { ...OFF, seconds: 100 }])
    expect(check.averagingIntervalS).toBe(10)
    expect(Math.abs(check.nmbe ?? 1)).toBeLessThan(0.01)
  })

  it('without an electric channel there is nothing to compare', () => {
    const { check } = checked(repeat([MINUTE, LOW], 6), ['systemFlow'])
    expect(check).toMatchObject({ nmbe: null, cvRmse: null, trusted: false, againstMeasuredPower: false })
  })

  it('the hand-worked input of the unloaded pump is far below half load', () => {
    expect(handRunKW(UNLOADED.bar)).toBeLessThan(0.15 * handInputKW(30))
  })
})
