import { tTestTwoSample } from 'simple-statistics'
import { describe, expect, it } from 'vitest'
import { sameDayTrial } from '@/lib/proof/trial'
import { madeEvidence } from '../../invented/evidence'

const turn = (mean: number, bar: number, count = 10) =>
  Array.from({ length: count }, (_, k) => ({ kWh: mean + (k % 2 ? 0.02 : -0.02), idleBar: bar }))
const log = madeEvidence([...turn(1, 160, 12), ...turn(0.8, 160, 12).map((one) => ({ ...one, idleBar: 6 }))])
/** Between cycle 12 and 13: 100 s and 12 cycles of 50 s. */
const AT_S = 700

describe('a same-day trial', () => {
  it('compares ten cycles on either side: Welch’s t as simple-statistics has it for equal counts', () => {
    const trial = sameDayTrial(log, AT_S, 10)
    expect(trial.verdict).toBe('proven')
    expect(trial.before).toMatchObject({ cycles: 10, toS: AT_S })
    expect(trial.after).toMatchObject({ cycles: 10, fromS: AT_S })
    expect(trial.savedKWhPerCycle?.value).toBeCloseTo(0.2, 12)
    expect(trial.savedShare?.value).toBeCloseTo(0.2, 12)
    const known = tTestTwoSample(
      turn(1, 160).map(({ kWh }) => kWh),
      turn(0.8, 6).map(({ kWh }) => kWh),
    )
    expect(trial.t).toBeCloseTo(known ?? Number.NaN, 6)
    expect(trial.warnings).toEqual([])
  })

  it('the log confirms the moment by its pressures', () => {
    expect(sameDayTrial(log, AT_S, 10).levelChange).toEqual({
      level: 'idle',
      beforePa: 160e5,
      afterPa: 6e5,
    })
  })

  it('says where the log shows the change when the moment given is another', () => {
    const { warnings } = sameDayTrial(log, 500, 8)
    expect(warnings).toContainEqual({ code: 'change-elsewhere', values: { atS: AT_S } })
  })

  it('says that nothing was changed where no pressure moved', () => {
    const { warnings, levelChange } = sameDayTrial(madeEvidence(turn(1, 160, 24)), AT_S, 10)
    expect(levelChange).toBeNull()
    expect(warnings.map(({ code }) => code)).toEqual(['no-change-seen'])
  })

  it('counts neighbours that are alike for fewer', () => {
    const slow = Array.from({ length: 24 }, (_, k) => ({
      kWh: 1 + 0.05 * Math.sin(k / 4) - (k < 12 ? 0 : 0.2),
    }))
    const drifting = sameDayTrial(madeEvidence(slow), AT_S, 12)
    expect(drifting.before.effectiveCycles).toBeLessThan(6)
    expect(drifting.warnings.map(({ code }) => code)).toContain('cycles-alike')
  })

  it('needs three whole cycles on either side, and says where it has fewer than ten', () => {
    expect(sameDayTrial(log, 150, 10).verdict).toBe('not-enough-data')
    expect(sameDayTrial(log, 0, 10).verdict).toBe('not-enough-data')
    const few = sameDayTrial(log, 350, 10)
    expect(few.before.cycles).toBe(5)
    expect(few.warnings.map(({ code }) => code)).toContain('few-trial-cycles')
  })

  it('does not count the cycle in which it was changed', () => {
    const trial = sameDayTrial(log, AT_S + 20, 10)
    expect(trial.before.toS).toBe(AT_S)
    expect(trial.after.fromS).toBe(AT_S + 50)
  })

  it('sensors leave doubt where the state is not the same on both sides', () => {
    const offset = { source: 'currentOffset', of: 'sensor' as const, byKindJ: { 'idle-loaded': 1e5 } }
    const still = sameDayTrial({ ...log, doubts: [offset] }, AT_S, 10)
    const seconds = {
      'idle-loaded': Array(12).fill(30).concat(Array(12).fill(0)),
      'idle-unloaded': Array(12).fill(0).concat(Array(12).fill(30)),
      'work-moving': Array(24).fill(20),
    }
    const vented = sameDayTrial({ ...log, doubts: [offset], cycles: { ...log.cycles, seconds } }, AT_S, 10)
    expect(vented.sensorsKWh).toBeGreaterThan(2 * still.sensorsKWh)
  })
})
