import { describe, expect, it } from 'vitest'
import { type Site, siteSchema } from '@/lib/contract/site'
import { weekMeanPrice } from '@/lib/economics/tariff'
import { accountArrays } from '@/lib/ledger/account-series'
import { meanPricePerKWh } from '@/lib/months/recording-price'
import { heldAccount } from '../../invented/held-account'
import { VIENNA } from '../economics/site'

const H = 3600

interface PowerRecord {
  timeS: number[]
  holdS: number[]
  powerW: number[]
  startedAtMs: number | null
}

function price({ timeS, holdS, powerW, startedAtMs }: PowerRecord, site: Site): number {
  const trace = { timeS: Float64Array.from(timeS), holdS: Float64Array.from(holdS), startedAtMs }
  const series = { ...accountArrays(timeS.length), electricIn: Float64Array.from(powerW) }
  const kinds = timeS.map(() => 'idle-loaded' as const)
  return meanPricePerKWh(heldAccount(kinds, series, trace), trace, site)
}

describe('mean price of a recording', () => {
  it('is weighted by energy: 21:00–23:00 on a Monday, 3 kW before 22:00 and 1 kW after', () => {
    const record = {
      timeS: [0, H],
      holdS: [H, H],
      powerW: [3000, 1000],
      startedAtMs: Date.parse('2026-03-23T21:00+01:00'),
    }
    expect(price(record, VIENNA)).toBeCloseTo((3 * 0.3 + 1 * 0.15) / 4, 12)
  })
  it('divides a sample that holds across a change of price', () => {
    const record = {
      timeS: [0],
      holdS: [2 * H],
      powerW: [1000],
      startedAtMs: Date.parse('2026-03-23T21:30+01:00'),
    }
    expect(price(record, VIENNA)).toBeCloseTo((0.5 * 0.3 + 1.5 * 0.15) / 2, 12)
  })
  it('leaves out what a gap hides', () => {
    const record = {
      timeS: [0, 4 * H],
      holdS: [H, H],
      powerW: [1000, 1000],
      startedAtMs: Date.parse('2026-03-23T20:00+01:00'),
    }
    expect(price(record, VIENNA)).toBeCloseTo((0.3 + 0.15) / 2, 12)
  })
  it('is the flat price without bands', () => {
    const record = { timeS: [0], holdS: [H], powerW: [1000], startedAtMs: 0 }
    expect(price(record, siteSchema.parse({ energyPricePerKWh: 0.18 }))).toBe(0.18)
  })
  it.each([
    ['no date', { timeS: [0], holdS: [H], powerW: [1000], startedAtMs: null }],
    ['no energy', { timeS: [0], holdS: [H], powerW: [0], startedAtMs: 0 }],
    ['no samples', { timeS: [], holdS: [], powerW: [], startedAtMs: 0 }],
  ])("is the plain week's mean with %s", (_name, record) => {
    expect(price(record, VIENNA)).toBe(weekMeanPrice(VIENNA))
  })
})
