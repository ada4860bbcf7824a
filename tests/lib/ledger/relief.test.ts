import { describe, expect, it } from 'vitest'
import type { Machine } from '@/lib/contract/machine'
import { ledgerKWh } from '@/lib/ledger/estimates'
import { accountFor, type Ledger } from '@/lib/ledger/ledger'
import { reliefFit } from '@/lib/ledger/relief-findings'
import { MOVE, UNLOADED } from '../../laws/hand-duty'
import { HAND_MACHINE, handFlowLpm, handReliefBar } from '../../laws/hand-machine'
import { handTrace, type MeterName, type Piece, repeat } from '../../laws/hand-trace'

const YEAR = { perLoggedJ: 1e-6 }
const ALL: readonly MeterName[] = ['loadPressure', 'systemFlow', 'returnFlow', 'power']

/**
 * Strokes over a relief whose line is known by construction: it cracks at `crackingBar` and passes
 * `ratedLpm` (85.5) at `settingBar`. Between strokes the machine moves well below cracking.
 */
function strokes(crackingBar: number, settingBar: number, leakLpmPerBar = 0): Piece[] {
  const bar = (lpm: number) => crackingBar + ((settingBar - crackingBar) * lpm) / 85.5
  const over = (lpm: number): Piece => ({
    seconds: 4,
    bar: bar(lpm),
    loadBar: 40,
    systemLpm: handFlowLpm(bar(lpm)) - lpm,
    returnLpm: lpm,
  })
  const moving = (at: number): Piece => ({
    seconds: 5,
    bar: at,
    loadBar: at - 10,
    systemLpm: handFlowLpm(at) - leakLpmPerBar * at,
    returnLpm: leakLpmPerBar * at,
  })
  // Dead-headed: the pump's whole flow, 90 − 4.5·p/160, meets the relief's line.
  const slope = 85.5 / (settingBar - crackingBar)
  const dead = (90 + slope * crackingBar) / (slope + 4.5 / 160)
  const idle: Piece = { seconds: 8, bar: dead, systemLpm: 0, returnLpm: handFlowLpm(dead) }
  return repeat([idle, moving(60), over(20), moving(90), over(40), over(60)], 8)
}

function fitOf(
  pieces: readonly Piece[],
  machine = HAND_MACHINE,
  noise = 0.001,
): [Ledger, ReturnType<typeof reliefFit>] {
  const ledger = accountFor(handTrace(pieces, { fitted: ALL, noise, seed: 11 }), machine)
  return [ledger, reliefFit(ledger, YEAR)]
}
const codes = (found: ReturnType<typeof reliefFit>) => found?.findings.map(({ code }) => code)

/** Pilot-operated valves crack at .90–.98 of the setting (common practice); below .90 is early (contract). */
describe('the relief’s line', () => {
  it.each([
    [152, 160],
    [146, 158],
    [130, 160],
  ])(
    'that cracks at %f bar and passes rated flow at %f bar is found within half a bar',
    (cracking, setting) => {
      const [, found] = fitOf(strokes(cracking, setting))
      expect(Math.abs((found?.crackingBar.value ?? 0) - cracking)).toBeLessThan(0.5)
      expect(Math.abs((found?.settingBar.value ?? 0) - setting)).toBeLessThan(0.5)
      expect(
        Math.abs((found?.overrideBarPerLpm.value ?? 0) / ((setting - cracking) / 85.5) - 1),
      ).toBeLessThan(0.08)
      for (const [estimate, truth] of [
        [found?.crackingBar, cracking],
        [found?.settingBar, setting],
      ] as const) {
        expect(estimate?.low).toBeLessThan(truth)
        expect(estimate?.high).toBeGreaterThan(truth)
      }
    },
  )

  it('was not seen open: no line', () => {
    const moving: Piece = { seconds: 10, bar: 80, loadBar: 70, systemLpm: handFlowLpm(80) }
    const [ledger, found] = fitOf(repeat([moving, { ...moving, bar: 40, systemLpm: handFlowLpm(40) }], 5))
    expect(ledger.reliefLine).toBeNull()
    expect(found).toBeNull()
  })

  it('seen at one flow only: the setting is measured, the slope is the kind’s usual one and said so', () => {
    const pieces = repeat([strokes(152, 160)[0], strokes(152, 160)[1]], 8)
    const [, found] = fitOf(pieces)
    expect(Math.abs((found?.settingBar.value ?? 0) - 160)).toBeLessThan(1)
    expect(found?.crackingBar.basis).toBe('default')
    expect(codes(found)).toEqual([])
    // Usual ratios .90 to .98 of 160 bar lie inside the interval.
    expect(found?.crackingBar.low).toBeLessThan(0.92 * 160)
    expect(found?.crackingBar.high).toBeGreaterThan(0.96 * 160)
  })
})

describe('findings', () => {
  it('a healthy valve is silent', () => {
    expect(codes(fitOf(strokes(152, 160))[1])).toEqual([])
    expect(codes(fitOf(strokes(146, 160))[1])).toEqual([])
  })

  it('a pilot-operated valve that cracks at .75 of its setting cracks early, and costs money', () => {
    const [, found] = fitOf(strokes(120, 160))
    expect(codes(found)).toEqual(['cracks-early'])
    const cost = found?.findings[0].costPerYear
    expect(cost?.value).toBeGreaterThan(0)
    expect(cost?.low).toBeLessThan(cost?.value ?? 0)
    expect(found?.findings[0].values.ratio).toBeCloseTo(0.75, 2)
  })

  it('the same line is nothing strange in a direct-acting valve: it cracks early below .70 (contract)', () => {
    const direct = { ...HAND_MACHINE, relief: { ...HAND_MACHINE.relief, kind: 'direct-acting' as const } }
    expect(codes(fitOf(strokes(120, 160), direct)[1])).toEqual([])
    expect(codes(fitOf(strokes(96, 160), direct)[1])).toEqual(['cracks-early'])
  })

  it('flow in proportion to pressure below cracking is a leak beyond 2 % of rated flow', () => {
    // 0.03 L/min a bar is 4.6 L/min at cracking: 5.3 % of rated flow.
    const [, found] = fitOf(strokes(152, 160, 0.03))
    expect(codes(found)).toContain('leaks-below-cracking')
    const leak = found?.findings.find(({ code }) => code === 'leaks-below-cracking')
    expect(leak?.values.leakLpm).toBeGreaterThan(0.8 * 4.6)
    expect(leak?.values.leakLpm).toBeLessThan(1.2 * 4.6)
    // 0.005 L/min a bar is 0.9 %: below what counts.
    expect(codes(fitOf(strokes(152, 160, 0.005))[1])).not.toContain('leaks-below-cracking')
  })

  it('a constant offset of the return meter is no leak', () => {
    const trace = handTrace(strokes(152, 160), { fitted: ALL, noise: 0.001, offsets: { returnFlow: 0.6 } })
    expect(codes(reliefFit(accountFor(trace, HAND_MACHINE), YEAR))).not.toContain('leaks-below-cracking')
  })

  it('a setting 15 bar above the nameplate has drifted, and the higher one costs', () => {
    const [, found] = fitOf(strokes(166, 175))
    expect(codes(found)).toContain('setting-drifted')
    const drift = found?.findings.find(({ code }) => code === 'setting-drifted')
    expect(drift?.values.driftShare).toBeCloseTo(15 / 160, 2)
    expect(drift?.costPerYear.value).toBeGreaterThan(0)
  })
})

/** A relief vented a moment after each stroke: only while its timer runs is the whole flow sure to pass it. */
describe('the dead-headed level of a machine that idles unloaded, with a meter at the pump alone', () => {
  const vented: Machine = { ...HAND_MACHINE, unloading: { kind: 'vented-relief', pressureBar: 5 } }
  /** 64 of 85.5 L/min pass the relief 2.4 bar below its setting: near enough to pass for a hold. */
  const bar = handReliefBar(64)
  const feed: Piece = { seconds: 5, bar, loadBar: 50, systemLpm: handFlowLpm(bar) - 64 }
  const CYCLES = 10
  const kWhOf = (piece: Piece) => (piece.bar * (piece.systemLpm ?? 0) * piece.seconds) / 600 / 3600
  const intoSystemKWh = CYCLES * (2 * kWhOf(MOVE) + kWhOf(feed))
  const ledgerOf = (waitS: number) => {
    const wait: Piece = { seconds: waitS, bar: 160, systemLpm: 0 }
    const duty = repeat([MOVE, feed, MOVE, wait, UNLOADED], CYCLES)
    return accountFor(handTrace(duty, { fitted: ['pumpFlow', 'current'], noise: 0.002, seed: 5 }), vented)
  }

  it.each([2, 0.4])('is seen in waits of seconds, not of a few samples: %f s', (waitS) => {
    const ledger = ledgerOf(waitS)
    expect(ledger.curve.deadHeadSeen).toBe(waitS > 1)
    const { intoSystem } = ledgerKWh(ledger)
    expect(intoSystem?.low).toBeLessThan(intoSystemKWh)
    expect(intoSystem?.high).toBeGreaterThan(intoSystemKWh)
  })
})
