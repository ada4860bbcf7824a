import { describe, expect, it } from 'vitest'
import { PHASE_KINDS } from '@/lib/contract/result'
import { accountFor, type Ledger } from '@/lib/ledger/ledger'
import { pumpEfficiencyPlane } from '@/lib/ledger/pump-efficiency'
import { volumetricEfficiencies } from '@/lib/ledger/pump-wear'
import { findingsBeyondRelief, reliefFit } from '@/lib/ledger/relief-findings'
import type { FullTrace } from '@/lib/samples/trace'
import { PA_PER_BAR } from '@/lib/units'
import { HAND_MACHINE, handFlowLpm, handReliefBar, handShaftKW } from '../../laws/hand-machine'
import { handTrace, type MeterName, type Piece, repeat, type TraceHabits } from '../../laws/hand-trace'

const YEAR = { perLoggedJ: 1e-6 }
const ALL: readonly MeterName[] = ['loadPressure', 'pumpFlow', 'returnFlow', 'power']
const QUIET: TraceHabits = { fitted: ALL, noise: 0.001, seed: 5 }

const rest: Piece = { seconds: 10, bar: 0, off: true }
const moving = (bar: number, lostLpm = 0): Piece => ({
  seconds: 6,
  bar,
  loadBar: bar - 8,
  systemLpm: handFlowLpm(bar) - lostLpm,
  returnLpm: 0,
})
/** Pressure held; `leakLpm` goes into the system and the rest over the sound relief. */
const hold = (leakLpm = 0): Piece => {
  const bar = handReliefBar(85.5 - leakLpm)
  return { seconds: 8, bar, loadBar: 120, systemLpm: leakLpm, returnLpm: handFlowLpm(bar) - leakLpm }
}
const idle: Piece = { seconds: 10, bar: 160, loadBar: 0, systemLpm: 0, returnLpm: handFlowLpm(160) }

const ledgerOf = (pieces: readonly Piece[], habits: TraceHabits = QUIET) =>
  accountFor(handTrace([rest, ...repeat(pieces, 8), rest], habits), HAND_MACHINE)

const codesOf = (ledger: Ledger) => [
  ...(reliefFit(ledger, YEAR)?.findings ?? []).map(({ code }) => code),
  ...findingsBeyondRelief(ledger, YEAR).map(({ code }) => code),
]

describe('a sound machine', () => {
  it('reports nothing', () => {
    expect(codesOf(ledgerOf([moving(60), hold(), moving(100), idle]))).toEqual([])
  })
})

describe('leakage beyond the relief', () => {
  it('5 L/min that flow into a held system are found, with flow, pressure, place and cost', () => {
    const [found] = findingsBeyondRelief(ledgerOf([moving(60), hold(5), moving(100)]), YEAR)
    expect(found.code).toBe('leaks-beyond-relief')
    expect(Number(found.values.leakLpm)).toBeCloseTo(5, 0)
    expect(Number(found.values.leakLowLpm)).toBeLessThan(5)
    expect(Number(found.values.leakHighLpm)).toBeGreaterThan(5)
    expect(Number(found.values.meanBar)).toBeCloseTo(handReliefBar(80.5), -0.5)
    // 8 holds of 8 s, the first after 10 s of rest and 6 s of moving.
    expect(Math.abs(found.evidence.seconds - 64)).toBeLessThan(2)
    expect(Math.abs((found.evidence.first?.startS ?? 0) - 16)).toBeLessThan(0.3)
    // At the meter: the share of the pump's oil that leaks, of the holds' input.
    const holdsKWh = 64 / 3600
    expect(found.kWhInLog.value).toBeGreaterThan((holdsKWh * handShaftKW(159) * 5) / 86)
    expect(found.kWhInLog.value).toBeLessThan((1.2 * holdsKWh * handShaftKW(159) * 5) / 86)
    expect(found.costPerYear.low).toBeLessThan(found.costPerYear.value)
    expect(found.checks.map(({ code }) => code)).toContain('cylinder-seals')
  })

  it('needs a meter that can see it', () => {
    const blind: TraceHabits = { fitted: ['loadPressure', 'pumpFlow', 'power'], noise: 0.001 }
    expect(findingsBeyondRelief(ledgerOf([moving(60), hold(5), moving(100)], blind), YEAR)).toEqual([])
  })

  it('a line meter that reads 1 L/min at rest too is no leak', () => {
    const habits: TraceHabits = {
      fitted: ['loadPressure', 'systemFlow', 'power'],
      noise: 0.001,
      offsets: { systemFlow: 1 },
    }
    expect(codesOf(ledgerOf([moving(60), hold(), moving(100), idle], habits))).toEqual([])
  })
})

describe('a worn pump', () => {
  // 9 L/min more at 160 bar: three times the nameplate's leakage; η_v = 1 − 13.5/90.
  const lost = (bar: number) => (9 * bar) / 160
  const worn = (): Ledger => {
    const pieces = [moving(50), moving(90), moving(130)].map((piece) => ({
      ...piece,
      systemLpm: handFlowLpm(piece.bar) - lost(piece.bar),
    }))
    const deadBar = handReliefBar(85.5 - lost(159))
    const dead: Piece = { ...idle, bar: deadBar, returnLpm: handFlowLpm(deadBar) - lost(deadBar) }
    return ledgerOf([...pieces, dead], {
      ...QUIET,
      fitted: ['loadPressure', 'systemFlow', 'returnFlow', 'power'],
    })
  }

  it('has the volumetric efficiency that the flows show, at stated pressures', () => {
    const seen = volumetricEfficiencies(worn())
    const rated = seen.find(({ pressureBar }) => Math.abs(pressureBar - 160) < 1e-6)
    expect(rated?.nameplate).toBeCloseTo(0.95, 6)
    expect(rated?.seen.value).toBeCloseTo(0.85, 1.7)
    expect(rated?.seen.low).toBeLessThan(0.85)
    expect(rated?.seen.high).toBeGreaterThan(0.85)
    expect(Math.abs((seen[0].pressureBar ?? 0) - 130)).toBeLessThan(1)
  })

  it('is found, with what it costs', () => {
    const found = findingsBeyondRelief(worn(), YEAR).find(({ code }) => code === 'pump-worn')
    expect(Number(found?.values.leakageShareOfNameplate)).toBeGreaterThan(2)
    expect(found?.kWhInLog.value).toBeGreaterThan(0)
    expect(found?.costPerYear.high).toBeGreaterThan(found?.costPerYear.value ?? Number.NaN)
  })

  it('without a flow meter nobody knows', () => {
    const blind: TraceHabits = { fitted: ['loadPressure', 'power'], noise: 0.001 }
    expect(volumetricEfficiencies(ledgerOf([moving(60), idle], blind))).toEqual([])
  })
})

describe('a hunting relief', () => {
  /** The pump pressure swings while the relief is open (`everywhere`: always), either way by `bar`. */
  const swinging = (bar: number, hz: number, everywhere = false, rateHz = 20): FullTrace => {
    const trace = handTrace([rest, ...repeat([moving(60), idle, moving(100), idle], 8), rest], {
      ...QUIET,
      rateHz,
    })
    const pressure = trace.channels[0].values.map((pa, i) => {
      const open = pa > 140 * PA_PER_BAR || (everywhere && pa > 20 * PA_PER_BAR)
      return open ? pa + bar * PA_PER_BAR * Math.sin(2 * Math.PI * hz * trace.timeS[i]) : pa
    })
    return { ...trace, channels: [{ ...trace.channels[0], values: pressure }, ...trace.channels.slice(1)] }
  }
  const found = (trace: FullTrace) => reliefFit(accountFor(trace, HAND_MACHINE), YEAR)?.findings ?? []

  it.each([
    [3, 2],
    [3, 4.5],
    [6, 1.1],
  ])('that swings by %d bar %d times a second is found, and how fast', (bar, hz) => {
    const finding = found(swinging(bar, hz)).find(({ code }) => code === 'hunting')
    expect(Math.abs(Number(finding?.values.frequencyHz) - hz)).toBeLessThan(0.35)
    expect(Number(finding?.values.swingBar) / bar).toBeGreaterThan(0.75)
    expect(Number(finding?.values.swingBar) / bar).toBeLessThan(1.2)
    expect(finding?.evidence.seconds).toBeGreaterThan(20)
    expect(finding?.checks.map(({ code }) => code)).toContain('remote-pilot-line')
  })

  it('half a bar is no hunting; nor is a swing that the pump makes everywhere, nor one that a slow log cannot show', () => {
    const codes = (trace: FullTrace) => found(trace).map(({ code }) => code)
    expect(codes(swinging(0.5, 2))).not.toContain('hunting')
    expect(codes(swinging(3, 2, true))).not.toContain('hunting')
    expect(codes(swinging(3, 0.3, false, 2))).not.toContain('hunting')
  })
})

describe('the pump’s efficiency over pressure and flow', () => {
  it('is that of the hand-worked pump in every field, and the fields hold all steady running time', () => {
    const ledger = ledgerOf([moving(60), moving(100), hold(), idle])
    const fields = pumpEfficiencyPlane(ledger)
    expect(fields.length).toBeGreaterThanOrEqual(3)
    for (const { fromBar, toBar, efficiency } of fields) {
      const bar = [60, 100, 160].find((at) => at >= fromBar && (at < toBar || toBar > 159)) ?? Number.NaN
      const byHand = (bar * handFlowLpm(bar)) / 600 / handShaftKW(bar)
      expect(Math.abs(efficiency.value - byHand)).toBeLessThan(0.02)
      expect(efficiency.low).toBeLessThan(byHand)
      expect(efficiency.high).toBeGreaterThan(byHand)
    }
    const hours = fields.reduce((sum, field) => sum + field.hours, 0)
    const running = ledger.segmentation.steps
      .filter(({ kind }) => kind !== 'stopped' && PHASE_KINDS.includes(kind))
      .reduce((sum, { durationS }) => sum + durationS, 0)
    expect(hours * 3600).toBeGreaterThan(0.97 * running)
    expect(hours * 3600).toBeLessThanOrEqual(running + 1e-6)
  })
})
