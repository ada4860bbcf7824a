import { describe, expect, it } from 'vitest'
import { motorModel } from '@/lib/machine/motor'
import { lossAtSpeedW, motorAtSpeed } from '@/lib/machine/motor-speed'
import { HAND_MACHINE, handMotorLossKW } from '../../laws/hand-machine'

/** 30 kW, 1470 rpm, 50 Hz, 4 poles: rated torque 30,000 / 153.94 = 194.88 Nm. */
const motor = motorModel({ ...HAND_MACHINE.motor, ratedSpeedRpm: 1470 })
const RATED_RADS = (1470 * 2 * Math.PI) / 60

describe('a motor that a drive turns', () => {
  it('at the mains’ own speed loses what it loses on the mains', () => {
    for (const load of [0, 0.3, 1, 1.4]) {
      const torque = (load * 30_000) / RATED_RADS
      const mains = motor.speedRadS(torque)
      expect(lossAtSpeedW(motor, torque, mains)).toBeCloseTo(motor.lossW(torque * mains), 9)
    }
  })
  it('at half speed and rated torque loses its load loss and half of its no-load loss: by hand', () => {
    const noLoadKW = handMotorLossKW(0)
    const byHandKW = handMotorLossKW(30) - noLoadKW / 2
    expect(lossAtSpeedW(motor, 30_000 / RATED_RADS, RATED_RADS / 2) / 1000).toBeCloseTo(byHandKW, 6)
  })
  it('never loses more at a lower speed, torque alike, and never less than nothing', () => {
    for (const torque of [0, 50, 195]) {
      let last = Number.POSITIVE_INFINITY
      for (let share = 1; share > 0.05; share -= 0.05) {
        const loss = lossAtSpeedW(motor, torque, share * RATED_RADS)
        expect(loss).toBeLessThan(last)
        expect(loss).toBeGreaterThan(0)
        last = loss
      }
    }
  })
  it('gives shaft power back from input, at any speed', () => {
    for (const share of [0.2, 0.5, 0.8, 1]) {
      const at = motorAtSpeed(motor, share * RATED_RADS)
      for (const load of [0.01, 0.2, 0.7, 1.3]) {
        const shaftW = load * share * 30_000
        expect(at.shaftFromInputW(shaftW + at.lossW(shaftW))).toBeCloseTo(shaftW, 3)
      }
      expect(at.shaftFromInputW(0.5 * at.lossW(0))).toBe(0)
    }
  })
  it('reads torque from its own current: the same amperes at half speed are half the shaft power', () => {
    const amps = motor.currentA(24_000)
    // On the mains 24 kW turns at 1500 less slip; torque stays, speed is halved.
    const torque = 24_000 / 154.58
    const half = motorAtSpeed(motor, RATED_RADS / 2).shaftFromCurrentW(amps)
    expect(half / (torque * (RATED_RADS / 2))).toBeCloseTo(1, 3)
    expect(motorAtSpeed(motor, RATED_RADS).shaftFromCurrentW(motor.currentA(30_000)) / 30_000).toBeCloseTo(
      1,
      3,
    )
  })
})
