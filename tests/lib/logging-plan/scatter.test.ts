import { describe, expect, it } from 'vitest'
import type { Estimate } from '@/lib/contract/estimate'
import type { LedgerKWh, Phase } from '@/lib/contract/result'
import { ASSUMED_DEGREES, type SeenLog, scatterOf, wasteRatesW } from '@/lib/logging-plan/scatter'

const exactly = (value: number): Estimate => ({ value, low: value, high: value, basis: 'measured' })

function line(electricIn: number, overRelief: number, intoSystem: number, hours: number) {
  const of: LedgerKWh & { hours: number } = {
    electricIn: exactly(electricIn),
    motorLoss: exactly(0),
    pumpLoss: exactly(0),
    overRelief: exactly(overRelief),
    unloading: exactly(0),
    intoSystem: exactly(intoSystem),
    metering: null,
    work: null,
    unaccounted: exactly(0),
    hours,
  }
  return of
}

/** Work of 10 s at 12 kW, a quarter of it over the relief, then an idle of so many seconds at 6 kW. */
function logOf(idlesS: readonly number[], startedAtMs: number | null = 0): SeenLog {
  const phases: Phase[] = [{ kind: 'idle-loaded', startS: 0, endS: 5 }]
  let at = 5
  for (const idleS of idlesS) {
    phases.push({ kind: 'work-metering', startS: at, endS: at + 10 })
    phases.push({ kind: 'idle-loaded', startS: at + 10, endS: at + 10 + idleS })
    at += 10 + idleS
  }
  phases.push({ kind: 'work-metering', startS: at, endS: at + 10 })
  const hours = { work: (10 * (idlesS.length + 1)) / 3600, idle: (at + 10) / 3600 }
  const idleH = hours.idle - hours.work
  return {
    startedAtMs,
    phases,
    ledgerByPhase: {
      'work-metering': line(12 * hours.work, 2 * hours.work, 6 * hours.work, hours.work),
      'idle-loaded': line(6 * idleH, 5 * idleH, 0, idleH),
      stopped: line(1, 0, 0, 3),
    },
  }
}

const dayOf = (epochMs: number) => String(Math.floor(epochMs / 86_400_000))
const level = (logs: readonly SeenLog[], name: string) =>
  scatterOf(logs, dayOf).find((one) => one.level === name)

describe('waste by kind', () => {
  it('is all input while idle, the relief’s part of it at work, and nothing at rest', () => {
    // 2 of 8 kW of oil go over the relief: a quarter of 12 kW.
    const rates = wasteRatesW(logOf([10, 20]).ledgerByPhase)
    expect(rates['work-metering']).toBeCloseTo(3000, 6)
    expect(rates['idle-loaded']).toBeCloseTo(6000, 6)
    expect(rates.stopped).toBe(0)
  })
})

describe('scatter between cycles', () => {
  it('is that of the ratio estimator, with what is assumed for the weight of ten', () => {
    // Cycles waste 3·10 + 6·idle kJ in 10 + idle s; idles of 10, 20 and 30 s: 90, 150, 210 kJ in 20, 30, 40 s.
    // Rate 450/90 = 5 kW; misses −10, 0, 10 kJ; s = √(200/2) = 10 kJ, of a mean of 150: 1/15.
    const of = level([logOf([10, 20, 30])], 'cycle')
    expect(of?.seen).toBe(3)
    expect(of?.seenSd).toBeCloseTo(1 / 15, 9)
    expect(of?.runningS).toBeCloseTo(30, 9)
    const variance = (2 / 225 + ASSUMED_DEGREES * (of?.assumedSd ?? 0) ** 2) / (2 + ASSUMED_DEGREES)
    expect(of?.shareSd).toBeCloseTo(Math.sqrt(variance), 9)
  })
  it('is nearly what was seen after many', () => {
    const of = level([logOf(Array.from({ length: 900 }, (_, k) => 10 * (1 + (k % 3))))], 'cycle')
    expect(of?.shareSd).toBeCloseTo(of?.seenSd ?? 0, 1)
    expect(of?.seenSd).toBeGreaterThan(0.05)
  })
  it('is assumed without a log, and with fewer than three units', () => {
    for (const one of scatterOf([], dayOf)) expect(one).toMatchObject({ seen: 0, seenSd: null })
    expect(level([logOf([10])], 'cycle')).toMatchObject({ seen: 0, seenSd: null })
  })
})

describe('scatter between days and hours', () => {
  const DAY = 86_400_000
  it('takes recordings of one day together', () => {
    const logs = [logOf([10], 0), logOf([30], 1000), logOf([10], DAY), logOf([30], 2 * DAY)]
    expect(level(logs, 'day')?.seen).toBe(3)
    expect(level(logs.slice(0, 3), 'day')?.seen).toBe(0)
  })
  it('takes recordings without a date as days of their own', () => {
    expect(level([logOf([10], null), logOf([20], null), logOf([30], null)], 'day')?.seen).toBe(3)
  })
  it('takes whole hours alone', () => {
    const seconds = Array.from({ length: 400 }, () => 20)
    // 5 + 400 · 30 + 10 s: three whole hours.
    expect(level([logOf(seconds)], 'hour')).toMatchObject({ seen: 3, runningS: 3600 })
    expect(level([logOf(seconds)], 'hour')?.seenSd).toBeLessThan(0.01)
  })
})
