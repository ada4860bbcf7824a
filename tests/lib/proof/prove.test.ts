import { describe, expect, it } from 'vitest'
import type { Estimate } from '@/lib/contract/estimate'
import { type ProofSetup, proofSetupSchema } from '@/lib/contract/proof'
import { normal, seededRandom } from '@/lib/numeric/random'
import { studentFactor } from '@/lib/numeric/student-t'
import { LEAST_BETWEEN_SHARE } from '@/lib/proof/between-logs'
import type { Doubt } from '@/lib/proof/evidence'
import { prove } from '@/lib/proof/prove'
import type { ProofLog } from '@/lib/proof/units'
import { J_PER_KWH } from '@/lib/units'
import { type MadeCycle, madeLog } from '../../invented/evidence'

const YEAR = { plannedHours: 4000, plannedHoursLimitShare: 0.05 }
const PLAIN = proofSetupSchema.parse({ adjustments: [] })
const proofOf = (logs: ProofLog[], setup: ProofSetup = PLAIN) =>
  prove({ logs, setup, expected: null, year: YEAR })

/** 0.9 and 1.1 kWh in turn: mean 1, neighbours anything but alike. */
const inTurn = (mean: number, count: number): MadeCycle[] =>
  Array.from({ length: count }, (_, k) => ({ kWh: mean + (k % 2 ? 0.1 : -0.1) }))

describe('a saving by cycles', () => {
  it('is cycles times the baseline’s mean, less what was used', () => {
    const { savedKWh, expectedKWh, savedShare, comparison, model } = proofOf([
      madeLog('a', 'baseline', inTurn(1, 20)),
      madeLog('b', 'comparison', inTurn(0.7, 10)),
    ])
    expect(expectedKWh?.value).toBeCloseTo(10, 12)
    expect(savedKWh?.value).toBeCloseTo(3, 12)
    expect(savedShare?.value).toBeCloseTo(0.3, 12)
    expect(comparison).toMatchObject({ units: 10, logs: ['b'] })
    expect(model?.r2).toBeNull()
    expect(model?.nmbe).toBeCloseTo(0, 12)
  })

  it('has the prediction interval of a mean of new observations, by hand', () => {
    const { savedKWh, parts } = proofOf([
      madeLog('a', 'baseline', inTurn(1, 20)),
      madeLog('b', 'comparison', inTurn(0.7, 10)),
    ])
    // s² of 20 values ± 0.1 is 0.2/19; the sum of 10 new ones is known to s·√(10²/20 + 10).
    const s = Math.sqrt(0.2 / 19)
    const byLogs = LEAST_BETWEEN_SHARE * 10 * Math.SQRT2
    const u = [s * Math.sqrt(100 / 20), s * Math.sqrt(10), byLogs]
    const all = Math.hypot(...u)
    const degrees = all ** 4 / (u[0] ** 4 / 19 + u[1] ** 4 / 19)
    const half = studentFactor(0.95, Math.floor(degrees)) * all
    expect((savedKWh?.high ?? 0) - 3).toBeCloseTo(half, 9)
    const squares = parts.reduce((sum, { halfWidthKWh }) => sum + halfWidthKWh ** 2, 0)
    expect(Math.sqrt(squares)).toBeCloseTo(half, 9)
  })

  it('is judged against what was promised', () => {
    const logs = [madeLog('a', 'baseline', inTurn(1, 40)), madeLog('b', 'comparison', inTurn(0.7, 40))]
    const promised = (value: number, half: number): Estimate => ({
      value,
      low: value - half,
      high: value + half,
      basis: 'estimated',
    })
    const verdict = (share: number, half: number) =>
      prove({
        logs,
        setup: PLAIN,
        year: YEAR,
        expected: {
          savedShare: promised(share, half),
          savedKWhPerYear: promised(1000, (1000 * half) / share),
        },
      }).verdict
    expect(verdict(0.3, 0.02)).toBe('proven')
    expect(verdict(0.5, 0.05)).toBe('proven-less')
    expect(verdict(0.5, 0.3)).toBe('proven')
    const other = (kWh: number) => proofOf([logs[0], madeLog('b', 'comparison', inTurn(kWh, 40))]).verdict
    expect(other(1)).toBe('not-proven')
    expect(other(1.3)).toBe('worse')
    expect(proofOf([logs[0]]).verdict).toBe('not-enough-data')
    expect(proofOf([logs[0], madeLog('b', 'comparison', inTurn(0.7, 2))]).verdict).toBe('not-enough-data')
    expect(proofOf([]).verdict).toBe('not-enough-data')
  })

  it('counts a longer idle as duty where it is adjusted for, and says so where it is not', () => {
    const random = seededRandom(8)
    const cycles = (idle: number, idleKW: number, count: number): MadeCycle[] =>
      Array.from({ length: count }, () => {
        const idleS = idle * (0.9 + 0.2 * random())
        const workS = 18 + 4 * random()
        const J = idleKW * 1e3 * idleS + 12e3 * workS
        return { kWh: (J / J_PER_KWH) * (1 + 0.002 * normal(random)), idleS, workS }
      })
    const logs = [madeLog('a', 'baseline', cycles(30, 8, 40)), madeLog('b', 'comparison', cycles(45, 2, 40))]
    // Truth: 40 cycles of 45 s at 6 kW less.
    const truth = (40 * 45 * 6e3) / J_PER_KWH
    const adjusted = proofOf(logs, proofSetupSchema.parse({}))
    expect(adjusted.adjustments).toEqual(['idle-time', 'working-time'])
    expect(adjusted.savedKWh?.value).toBeGreaterThan(0.95 * truth)
    expect(adjusted.savedKWh?.low).toBeLessThan(truth)
    expect(adjusted.savedKWh?.high).toBeGreaterThan(truth)
    expect(adjusted.warnings.map(({ code }) => code)).toContain('outside-baseline')
    const plain = proofOf(logs)
    expect(plain.savedKWh?.value).toBeLessThan(0.8 * truth)
    expect(plain.warnings).toContainEqual(
      expect.objectContaining({
        code: 'not-adjusted',
        values: expect.objectContaining({ variable: 'idle-time' }),
      }),
    )
  })

  it('scales to a year of planned hours', () => {
    const { savedKWhPerYear, runningHours } = proofOf([
      madeLog('a', 'baseline', inTurn(1, 20)),
      madeLog('b', 'comparison', inTurn(0.7, 72)),
    ])
    // 72 cycles of 50 s are an hour.
    expect(runningHours).toBeCloseTo(1, 12)
    expect(savedKWhPerYear?.value).toBeCloseTo(0.3 * 72 * 4000, 6)
  })

  it('holds the saving of a year against a promise for the same hours', () => {
    const logs = [madeLog('a', 'baseline', inTurn(1, 20)), madeLog('b', 'comparison', inTurn(0.7, 72))]
    const setup = proofSetupSchema.parse({ adjustments: [] })
    const even = { value: 20_000, low: 18_000, high: 22_000, basis: 'estimated' as const }
    const of = (plannedHours: number | undefined) =>
      prove({ logs, setup, expected: { savedShare: null, savedKWhPerYear: even, plannedHours }, year: YEAR })
    expect(of(2000).predictedKWhPerYear).toMatchObject({ value: 40_000, low: 36_000, high: 44_000 })
    expect(of(undefined).predictedKWhPerYear).toEqual(even)
    expect(of(2000).plannedHours).toBe(4000)
  })
})

describe('sensors and models', () => {
  const doubt = (of: Doubt['of'], idle: number, work: number): Doubt => ({
    source: of === 'sensor' ? 'powerOffset' : 'ratedLoss',
    of,
    byKindJ: { 'idle-loaded': idle * J_PER_KWH, 'work-moving': work * J_PER_KWH },
  })
  const pair = (before: Doubt, after: Doubt) => [
    madeLog('a', 'baseline', inTurn(1, 20), { doubts: [before] }),
    madeLog('b', 'comparison', inTurn(0.7, 20), { doubts: [after] }),
  ]
  const part = (logs: ProofLog[], source: string, sameSensors = false) => {
    const { parts, coverageFactor } = proofOf(logs, proofSetupSchema.parse({ adjustments: [], sameSensors }))
    const found = parts.find((one) => one.source === source)
    return (found?.halfWidthKWh ?? Number.NaN) / (coverageFactor ?? Number.NaN)
  }

  it('an offset is drawn anew for every log and never cancels between them', () => {
    const logs = pair(doubt('sensor', 0.3, 0.1), doubt('sensor', 0.3, 0.1))
    expect(part(logs, 'sensors')).toBeCloseTo(0.4 * Math.SQRT2, 9)
    expect(part(logs, 'models')).toBe(0)
  })

  it('the same sensors’ offset cancels as far as it acts alike', () => {
    const alike = pair(doubt('sensor', 0.3, 0.1), doubt('sensor', 0.3, 0.1))
    expect(part(alike, 'sensors', true)).toBeCloseTo(0, 9)
    const unlike = pair(doubt('sensor', 0.3, 0.1), doubt('sensor', 0.1, 0.1))
    expect(part(unlike, 'sensors', true)).toBeCloseTo(0.2, 9)
  })

  it('what a model lacks is the same in all logs and cancels as far as it acts alike', () => {
    expect(part(pair(doubt('model', 0.3, 0.1), doubt('model', 0.3, 0.1)), 'models')).toBeCloseTo(0, 9)
    expect(part(pair(doubt('model', 0.3, 0.1), doubt('model', -0.3, 0.1)), 'models')).toBeCloseTo(0.6, 9)
  })
})

describe('energy against pieces and hours', () => {
  const random = seededRandom(21)
  const log = (side: 'baseline' | 'comparison', n: number, saved: number) => {
    const pieces = 50 + 50 * random()
    const kWh = 4 + 0.2 * pieces - saved + 0.1 * normal(random)
    return madeLog(`${side}${n}`, side, [{ kWh, idleS: 1000, workS: 2600 }], { pieces, day: n })
  }
  const logs = [
    ...Array.from({ length: 12 }, (_, n) => log('baseline', n, 0)),
    ...Array.from({ length: 6 }, (_, n) => log('comparison', 20 + n, 3)),
  ]
  const setup = proofSetupSchema.parse({ driver: 'production', adjustments: [] })

  it('finds base load and energy a piece with their statistics', () => {
    const { model, savedKWh, verdict } = proofOf(logs, setup)
    const [constant, slope] = model?.coefficients ?? []
    expect(constant).toMatchObject({ name: 'constant' })
    expect(slope.name).toBe('production')
    expect(Math.abs(slope.value / J_PER_KWH - 0.2)).toBeLessThan((3 * slope.standardError) / J_PER_KWH)
    expect(slope.t).toBeCloseTo(slope.value / slope.standardError, 9)
    expect(model?.r2).toBeGreaterThan(0.99)
    expect(savedKWh?.low).toBeLessThan(18)
    expect(savedKWh?.high).toBeGreaterThan(18)
    expect(verdict).toBe('proven')
  })

  it('says which logs have no count, and where production lies beyond what the baseline saw', () => {
    const uncounted = { ...logs[17], pieces: null }
    const much = { ...logs[16], pieces: 400 }
    const { warnings, comparison } = proofOf([...logs.slice(0, 16), much, uncounted], setup)
    const codes = warnings.map(({ code }) => code)
    expect(codes).toContain('pieces-missing')
    expect(codes).toContain('outside-baseline')
    expect(comparison.units).toBe(5)
  })

  it('by hours needs logs enough for a line', () => {
    const hours = proofSetupSchema.parse({ driver: 'running-hours', adjustments: [] })
    expect(proofOf(logs.slice(0, 5), hours).verdict).toBe('not-enough-data')
  })
})

describe('the running sum', () => {
  it('falls where less is used than expected: up is worse, and the rule rings', () => {
    const logs = [
      ...[0, 7, 14].map((day) => madeLog(`b${day}`, 'baseline', inTurn(1, 20), { day })),
      ...[30, 37].map((day) => madeLog(`c${day}`, 'comparison', inTurn(0.7, 20), { day })),
    ]
    const { logs: rows } = proofOf(logs)
    expect(rows.map(({ cusumKWh }) => Math.round(cusumKWh * 10) / 10 + 0)).toEqual([0, 0, 0, -6, -12])
    expect(rows.map(({ alarm }) => alarm)).toEqual([null, null, null, 'better', 'better'])
  })

  it('a saving that fades is told', () => {
    const logs = [
      ...[0, 7, 14].map((day) => madeLog(`b${day}`, 'baseline', inTurn(1, 20), { day })),
      ...[30, 37, 44, 51].map((day, k) =>
        madeLog(`c${day}`, 'comparison', inTurn(k < 2 ? 0.7 : 0.95, 20), { day }),
      ),
    ]
    expect(proofOf(logs).warnings.map(({ code }) => code)).toContain('saving-fades')
  })
})

describe('cycles that are not the same thing', () => {
  it('are not compared, and it is said why', () => {
    const { verdict, warnings } = proofOf([
      madeLog('a', 'baseline', inTurn(1, 20)),
      madeLog(
        'b',
        'comparison',
        inTurn(0.7, 20).map((one) => ({ ...one, idleS: 0, workS: 50 })),
      ),
    ])
    expect(verdict).toBe('not-enough-data')
    expect(warnings).toContainEqual({ code: 'cycles-unlike', values: { beforeS: 20, afterS: 50 } })
  })
})
