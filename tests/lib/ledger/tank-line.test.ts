import { describe, expect, it } from 'vitest'
import { ledgerKWh } from '@/lib/ledger/estimates'
import { accountFor, type Ledger } from '@/lib/ledger/ledger'
import { sensorOffsets } from '@/lib/ledger/offsets'
import { ledgerProblems } from '@/lib/ledger/problems'
import { reliefFit } from '@/lib/ledger/relief-findings'
import { tankLine } from '@/lib/ledger/tank-line'
import { normal, seededRandom } from '@/lib/numeric/random'
import type { Channel, Trace } from '@/lib/samples/trace'
import { OFF } from '../../laws/hand-duty'
import { HAND_MACHINE, handFlowLpm } from '../../laws/hand-machine'
import { handTrace, type Piece, repeat } from '../../laws/hand-trace'

const YEAR = { perLoggedJ: 1e-6 }
const BAR = 1e5

interface Tanked extends Piece {
  readonly tankBar: number
}

/**
 * Strokes over a relief whose own spring cracks at `crackingBar` and passes rated flow (85.5 L/min) at `settingBar`;
 * `tankBar` stands behind it and adds to both, as in a valve whose spring chamber drains to tank.
 */
function strokes(crackingBar: number, settingBar: number, tankBar: number, rounds = 8): Tanked[] {
  const slope = 85.5 / (settingBar - crackingBar)
  const at = (lpm: number) => crackingBar + tankBar + lpm / slope
  const over = (lpm: number) => ({
    seconds: 4,
    bar: at(lpm),
    loadBar: 40,
    systemLpm: handFlowLpm(at(lpm)) - lpm,
    returnLpm: lpm,
    tankBar,
  })
  const moving = (bar: number) => ({
    seconds: 5,
    bar,
    loadBar: bar - 10,
    systemLpm: handFlowLpm(bar),
    returnLpm: 0,
    tankBar,
  })
  // Dead-headed: the pump's flow, 90 − 4.5·p/160, meets the line as the pump sees it.
  const dead = (90 + slope * (crackingBar + tankBar)) / (slope + 4.5 / 160)
  const idle = { seconds: 8, bar: dead, systemLpm: 0, returnLpm: handFlowLpm(dead), tankBar }
  return repeat([idle, moving(60), over(20), moving(90), over(40), over(60)], rounds) as Tanked[]
}
const STOP: Tanked = { ...OFF, tankBar: 0 }

/** The hand-worked machine's log with a sensor of 25 bar (1 %) in its tank line, which reads `offsetBar` too high. */
function logOf(pieces: readonly Tanked[], offsetBar = 0): Trace {
  const trace = handTrace(pieces, {
    fitted: ['loadPressure', 'systemFlow', 'returnFlow', 'power'],
    noise: 0.001,
    seed: 11,
  })
  const random = seededRandom(4)
  const tank: Channel = {
    column: 'T',
    quantity: 'pressure',
    location: 'tank-line',
    unit: 'bar',
    accuracy: { percentOfFullScale: 1, fullScale: 25 },
    values: Float64Array.from(
      pieces.flatMap(({ tankBar, seconds }) => Array<number>(Math.round(seconds * 10)).fill(tankBar)),
      (bar) => (bar + offsetBar + 0.02 * normal(random)) * BAR,
    ),
  }
  return { ...trace, channels: [...trace.channels, tank] }
}
const withoutTank = (trace: Trace): Trace => ({ ...trace, channels: trace.channels.slice(0, -1) })
const told = (ledger: Ledger) => {
  const found = reliefFit(ledger, YEAR)
  return { found, codes: found?.findings.map(({ code }) => code) }
}
const problemOf = (ledger: Ledger) => ledgerProblems(ledger).find(({ code }) => code === 'tank-line-high')

describe('the relief’s line with a measured tank line (common practice, no source)', () => {
  const back = logOf([STOP, ...strokes(152, 160, 12), STOP])

  it('is the valve’s own: 12 bar behind a sound valve are no drifted setting', () => {
    const blind = told(accountFor(withoutTank(back), HAND_MACHINE))
    expect(blind.codes).toEqual(['setting-drifted'])
    expect(Math.abs((blind.found?.settingBar.value ?? 0) - 172)).toBeLessThan(0.7)
    const { found, codes } = told(accountFor(back, HAND_MACHINE))
    expect(codes).toEqual([])
    for (const [estimate, truth] of [
      [found?.settingBar, 160],
      [found?.crackingBar, 152],
    ] as const) {
      expect(Math.abs((estimate?.value ?? 0) - truth)).toBeLessThan(0.7)
      expect(estimate?.low).toBeLessThan(truth)
      expect(estimate?.high).toBeGreaterThan(truth)
    }
  })

  it('follows a back pressure that changes within the log, where the plain fit is spoilt', () => {
    const trace = logOf([STOP, ...strokes(152, 160, 10, 4), ...strokes(152, 160, 2, 4), STOP])
    const { found } = told(accountFor(trace, HAND_MACHINE))
    expect(Math.abs((found?.settingBar.value ?? 0) - 160)).toBeLessThan(0.7)
    expect(Math.abs((found?.crackingBar.value ?? 0) - 152)).toBeLessThan(1)
    const { found: blind } = told(accountFor(withoutTank(trace), HAND_MACHINE))
    expect((blind?.settingBar.value ?? 0) - 160).toBeGreaterThan(1.5)
  })

  it('a setting that did drift is found, less what stands behind it: 175 bar, 178 at the pump', () => {
    const { found, codes } = told(accountFor(logOf([STOP, ...strokes(166, 175, 3), STOP]), HAND_MACHINE))
    expect(codes).toContain('setting-drifted')
    const drift = found?.findings.find(({ code }) => code === 'setting-drifted')
    expect(Math.abs(Number(drift?.values.settingBar) - 175)).toBeLessThan(0.7)
  })

  it('a low one is no finding while the pump meets the nameplate’s: where the pilot drains is not known', () => {
    const { found, codes } = told(accountFor(logOf([STOP, ...strokes(140, 148, 12), STOP]), HAND_MACHINE))
    expect(Math.abs((found?.settingBar.value ?? 0) - 148)).toBeLessThan(0.7)
    expect(codes).not.toContain('setting-drifted')
  })

  it('an early crack is judged by the valve’s own ratio: 120 over 160, not 132 over 172', () => {
    const { found } = told(accountFor(logOf([STOP, ...strokes(120, 160, 12), STOP]), HAND_MACHINE))
    const early = found?.findings.find(({ code }) => code === 'cracks-early')
    expect(early?.values.ratio).toBeCloseTo(0.75, 2)
    expect(Math.abs(Number(early?.values.crackingBar) - 120)).toBeLessThan(1)
  })

  it('leaves the account as it is: what returns at a back pressure loses that too', () => {
    const [ledger, blind] = [back, withoutTank(back)].map((trace) => accountFor(trace, HAND_MACHINE))
    expect(ledgerKWh(ledger)).toEqual(ledgerKWh(blind))
    expect(ledger.curve).toEqual(blind.curve)
    expect(ledger.values).toEqual(blind.values)
  })

  it('an offset shown at rest is taken off and told; without rest its limit widens the interval', () => {
    const rested = accountFor(logOf([STOP, ...strokes(152, 160, 12), STOP], 0.4), HAND_MACHINE)
    expect(
      sensorOffsets(rested, rested.trace.channels).find(({ column }) => column === 'T')?.offset,
    ).toBeCloseTo(0.4, 1)
    expect(rested.tankLine?.usualPa).toBeCloseTo(12 * BAR, -4)
    const restless = accountFor(logOf(strokes(152, 160, 12), 0.4), HAND_MACHINE)
    expect(restless.tankLine?.offsetPa).toBe(0)
    // The limit is 1 % of 25 bar, a fifth of it after rest.
    expect(restless.tankLine?.limitPa).toBeCloseTo(0.25 * BAR, 6)
    expect(rested.tankLine?.limitPa).toBeCloseTo(0.05 * BAR, 6)
  })

  it('a sensor that is silent while the pump turns is none', () => {
    const { steps } = accountFor(back, HAND_MACHINE).segmentation
    const silent = { column: 'T', values: new Float64Array(back.timeS.length).fill(Number.NaN), limit: 1 }
    expect(tankLine(steps, silent, back.holdS)).toBeNull()
    expect(tankLine(steps, null, back.holdS)).toBeNull()
  })
})

describe('a tank line that stands high (5 bar: common practice, no source)', () => {
  it('is named with how high and how long', () => {
    const high = problemOf(accountFor(logOf([STOP, ...strokes(152, 160, 12), STOP]), HAND_MACHINE))
    expect(high?.column).toBe('T')
    expect(high?.values.medianBar).toBeCloseTo(12, 1)
    // 8 rounds of 8 + 5 + 4 + 5 + 4 + 4 = 30 s, of which steps at the edges take little.
    expect(Number(high?.values.seconds)).toBeGreaterThan(0.95 * 240)
    expect(Number(high?.values.share)).toBeGreaterThan(0.95)
    expect(high?.count).toBeGreaterThan(0.95 * 2400)
  })

  it.each([
    ['3 bar are usual', strokes(152, 160, 3)],
    ['5.03 bar lie within the sensor’s limit after rest of .05', strokes(152, 160, 5.03)],
    ['short of a fifth of the time', [...strokes(152, 160, 2, 9), ...strokes(152, 160, 9, 1)]],
  ])('%s', (_name, pieces) => {
    expect(problemOf(accountFor(logOf([STOP, ...pieces, STOP]), HAND_MACHINE))).toBeUndefined()
  })
})
