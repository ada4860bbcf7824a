import { describe, expect, it } from 'vitest'
import { siteSchema } from '@/lib/contract/site'
import { demandCostPerMonth, highestWindowMeanW } from '@/lib/economics/demand'
import { VIENNA } from './site'

const WINDOW_S = 900

/** One sample a minute from the given instant. */
function minutes(powerKW: number[], startedAt: string | null) {
  return {
    timeS: powerKW.map((_, i) => i * 60),
    holdS: powerKW.map(() => 60),
    powerW: powerKW.map((kW) => kW * 1000),
    startedAtMs: startedAt === null ? null : Date.parse(startedAt),
  }
}

const repeat = (kW: number, times: number) => new Array<number>(times).fill(kW)

describe('highest window mean', () => {
  it('two whole quarters of 10 and 20 kW: 20 kW', () => {
    const record = minutes([...repeat(10, 15), ...repeat(20, 15)], '2026-03-02T08:00Z')
    expect(highestWindowMeanW(record, WINDOW_S)).toBeCloseTo(20_000, 6)
  })
  it('windows begin on the quarter, not at the first sample', () => {
    // 8:10 to 8:40: only 8:15–8:30 is whole; 10 minutes of 30 kW and 5 of 0 are in it.
    const record = minutes(
      [...repeat(0, 5), ...repeat(30, 10), ...repeat(0, 5), ...repeat(90, 10)],
      '2026-03-02T08:10Z',
    )
    expect(highestWindowMeanW(record, WINDOW_S)).toBeCloseTo(20_000, 6)
  })
  it('begin at the first sample where there is no date', () => {
    const record = minutes([...repeat(12, 15), ...repeat(90, 5)], null)
    expect(highestWindowMeanW(record, WINDOW_S)).toBeCloseTo(12_000, 6)
  })
  it('divides a sample that holds across windows', () => {
    const record = { timeS: [0], holdS: [1800], powerW: [7000], startedAtMs: 0 }
    expect(highestWindowMeanW(record, WINDOW_S)).toBeCloseTo(7000, 9)
  })
  it('is unknown where a gap breaks every window', () => {
    const record = { timeS: [0, 840], holdS: [600, 60], powerW: [5000, 5000], startedAtMs: 0 }
    expect(highestWindowMeanW(record, WINDOW_S)).toBeNull()
  })
  it('is unknown for a recording shorter than a window', () => {
    expect(highestWindowMeanW(minutes(repeat(5, 10), null), WINDOW_S)).toBeNull()
  })
})

describe('demand charge', () => {
  it('20 kW at 8 a kW and month, half coincident: 80', () => {
    expect(demandCostPerMonth(20_000, VIENNA)).toBeCloseTo(80, 12)
  })
  it('is unknown with an unknown peak, and null without a demand tariff', () => {
    expect(demandCostPerMonth(null, VIENNA)).toBeNull()
    expect(demandCostPerMonth(20_000, siteSchema.parse({}))).toBeNull()
  })
})
