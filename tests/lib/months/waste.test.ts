import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { PHASE_KINDS } from '@/lib/contract/result'
import { classOf, electricOf, type PhaseTotals, wasteOf } from '@/lib/months/waste'
import { NO_ENERGY } from '../../invented/no-energy'

const J_PER_KWH = 3.6e6
const EMPTY: PhaseTotals = { ...NO_ENERGY, phaseKind: 'work-metering', seconds: 0 }

describe('classes (domain of the trade: off, idle, work)', () => {
  it('hold every kind of phase', () => {
    const classes = PHASE_KINDS.map((phaseKind) => classOf({ ...EMPTY, phaseKind }))
    expect(classes).toEqual(['off', 'off', 'idle', 'idle', 'work', 'work', 'work'])
  })
})

describe('waste at the meter', () => {
  /** 20 gpm at 2500 psi, load 9 gpm at 1300 psi: 29.17 hp = 16.04 over relief + 6.30 metering + 6.83 work. */
  const row: PhaseTotals = {
    ...EMPTY,
    electricJ: 40 * J_PER_KWH,
    overReliefJ: 16.04 * J_PER_KWH,
    meteringJ: 6.3 * J_PER_KWH,
    workJ: 6.83 * J_PER_KWH,
    intoSystemJ: 13.13 * J_PER_KWH,
    cost: 8,
  }
  it('shares the input in proportion to the published account', () => {
    expect(wasteOf('overRelief', [row], 0.25)?.kWh).toBeCloseTo((40 * 16.04) / 29.17, 9)
    expect(wasteOf('metering', [row], 0.25)?.cost).toBeCloseTo((8 * 6.3) / 29.17, 9)
    expect(wasteOf('unloading', [row], 0.25)).toEqual({ kWh: 0, cost: 0, kgCO2: 0 })
  })
  it('while idle all input is idle and no other waste', () => {
    const idle: PhaseTotals = { ...row, phaseKind: 'idle-loaded' }
    expect(wasteOf('idle', [idle], 0.25)).toEqual({ kWh: 40, cost: 8, kgCO2: 10 })
    expect(wasteOf('overRelief', [idle], 0.25)?.kWh).toBe(0)
  })
  it('what no sensor separates is unknown, but only where there is work', () => {
    const blind: PhaseTotals = { ...row, meteringJ: null, workJ: null }
    expect(wasteOf('metering', [row, blind], 0.25)).toBeNull()
    expect(wasteOf('metering', [row, { ...blind, phaseKind: 'idle-loaded' }], 0.25)).not.toBeNull()
  })
})

it('kinds of waste, work and what is unaccounted for add up to the input', () => {
  const energy = fc.integer({ min: 0, max: 1_000_000_000 })
  const rows = fc.array(
    fc.record({
      phaseKind: fc.constantFrom('idle-loaded' as const, 'work-metering' as const, 'work-moving' as const),
      overReliefJ: energy,
      unloadingJ: energy,
      meteringJ: energy,
      workJ: fc.integer({ min: 1, max: 1_000_000_000 }),
      unaccountedJ: fc.integer({ min: -1_000_000, max: 1_000_000 }),
    }),
    { minLength: 1, maxLength: 12 },
  )
  fc.assert(
    fc.property(rows, (parts) => {
      const full = parts.map((part): PhaseTotals => {
        const intoSystemJ = part.meteringJ + part.workJ
        const electricJ = part.overReliefJ + part.unloadingJ + intoSystemJ + part.unaccountedJ + 5_000_000
        return { ...EMPTY, ...part, intoSystemJ, electricJ, motorLossJ: 5_000_000, cost: electricJ / 1e9 }
      })
      const kinds = ['idle', 'overRelief', 'unloading', 'metering'] as const
      const wasted = kinds.reduce((sum, kind) => sum + (wasteOf(kind, full, 0.25)?.kWh ?? Number.NaN), 0)
      const working = full.filter((row) => classOf(row) === 'work')
      const worked = working.reduce((sum, row) => {
        const hydraulicJ = row.overReliefJ + row.unloadingJ + row.intoSystemJ
        return sum + ((row.electricJ - row.unaccountedJ) * (row.workJ ?? 0)) / hydraulicJ + row.unaccountedJ
      }, 0)
      const input = electricOf(full, 0.25).kWh
      expect(Math.abs(wasted + worked / J_PER_KWH - input)).toBeLessThan(1e-9 * Math.max(1, input))
    }),
  )
})
