import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { PHASE_KINDS } from '@/lib/contract/result'
import { siteSchema } from '@/lib/contract/site'
import { type MonthTotals, rollUp } from '@/lib/months/rollup'
import { VIENNA } from '../economics/site'
import { logOf, type Row } from './log'

const H = 3600
const J_PER_KWH = 3.6e6

function roll(rows: readonly Row[], startedAt: string | null, site = VIENNA, cycles = 0): MonthTotals[] {
  const { log, analysed } = logOf(rows, startedAt, cycles)
  return rollUp(log, analysed, site)
}

describe('months are local', () => {
  it("a sample that holds over midnight of the month's end is divided there", () => {
    // 2026-03-31 23:00 in Vienna is 21:00Z: still March in UTC for three hours, in Vienna for one.
    const rows = roll([{ kind: 'idle-loaded', holdS: 3 * H, relief: 6000 }], '2026-03-31T21:00Z')
    expect(rows.map((row) => [row.month, row.seconds])).toEqual([
      ['2026-03', H],
      ['2026-04', 2 * H],
    ])
    expect(rows[0].overReliefJ).toBeCloseTo(6000 * H, 3)
    expect(rows[1].overReliefJ).toBeCloseTo(6000 * 2 * H, 3)
  })
  it("a log over a year's end and a gap over a whole month leaves that month out", () => {
    const rows = roll(
      [
        { kind: 'work-moving', holdS: H, relief: 0, work: 1000 },
        { kind: 'work-moving', holdS: H, relief: 0, work: 1000, gapBeforeS: 40 * 24 * H },
      ],
      '2025-12-30T08:00Z',
    )
    expect(rows.map((row) => row.month)).toEqual(['2025-12', '2026-02'])
  })
  it('a month with a changed clock has all its hours: March 2026 in Vienna has 743', () => {
    const rows = roll([{ kind: 'stopped', holdS: 40 * 24 * H, relief: 0 }], '2026-02-28T23:00Z')
    expect(rows.find((row) => row.month === '2026-03')?.seconds).toBeCloseTo(743 * H, 6)
  })
  it('without a date there is no month', () => {
    expect(roll([{ kind: 'idle-loaded', holdS: H, relief: 1 }], null)).toEqual([])
  })
  it('without samples there is nothing', () => {
    expect(roll([], '2026-03-01T00:00Z')).toEqual([])
  })
})

describe('cost', () => {
  it('follows the tariff within a sample: 21:30–23:30 on a Monday, by hand', () => {
    const [row] = roll([{ kind: 'idle-loaded', holdS: 2 * H, relief: 8840 }], '2026-03-23T20:30Z')
    expect(row.electricJ / J_PER_KWH).toBeCloseTo(20, 9)
    expect(row.cost).toBeCloseTo(5 * 0.3 + 15 * 0.15, 9)
  })
  it('is energy times price without bands', () => {
    const site = siteSchema.parse({ energyPricePerKWh: 0.18 })
    const [row] = roll([{ kind: 'idle-loaded', holdS: H, relief: 8840 }], '2026-03-23T20:30Z', site)
    expect(row.cost).toBeCloseTo(10 * 0.18, 9)
  })
})

describe('what cannot be separated stays unknown', () => {
  it('in its own kind of phase only', () => {
    const rows = roll(
      [
        { kind: 'work-moving', holdS: H, relief: 0, metering: Number.NaN, work: Number.NaN },
        { kind: 'idle-loaded', holdS: H, relief: 5000 },
      ],
      '2026-03-02T08:00Z',
    )
    expect(rows.map((row) => [row.meteringJ, row.workJ])).toEqual([
      [null, null],
      [0, 0],
    ])
    expect(rows[0].intoSystemJ).toBeCloseTo(1000 * H, 6)
  })
})

describe('cycles', () => {
  it("are spread by running time and add up to the log's count", () => {
    const rows = roll(
      [
        { kind: 'work-moving', holdS: 3 * H, relief: 0, work: 1 },
        { kind: 'idle-loaded', holdS: H, relief: 1 },
        { kind: 'stopped', holdS: H, relief: 0 },
      ],
      '2026-03-02T08:00Z',
      VIENNA,
      100,
    )
    expect(rows.map((row) => row.cycles)).toEqual([75, 25, 0])
  })
})

describe('laws', () => {
  const row = fc.record({
    kind: fc.constantFrom(...PHASE_KINDS),
    holdS: fc.integer({ min: 1, max: 5 * H }),
    relief: fc.integer({ min: 0, max: 20_000 }),
    unloading: fc.integer({ min: 0, max: 2000 }),
    metering: fc.integer({ min: 0, max: 5000 }),
    work: fc.integer({ min: 0, max: 15_000 }),
    gapBeforeS: fc.constantFrom(0, 0, 0, 7, 100_000),
  })
  const start = Date.parse('2026-03-27T05:00Z')

  it('splitting a log leaves every total unchanged', () => {
    fc.assert(
      fc.property(fc.array(row, { minLength: 2, maxLength: 40 }), fc.nat(), (rows, at) => {
        const cut = 1 + (at % (rows.length - 1))
        const whole = roll(rows, iso(start))
        const { log } = logOf(rows, iso(start))
        const [head, ...tail] = rows.slice(cut)
        const later = iso(start + log.trace.timeS[cut] * 1000)
        const parts = [
          ...roll(rows.slice(0, cut), iso(start)),
          ...roll([{ ...head, gapBeforeS: 0 }, ...tail], later),
        ]
        for (const total of whole) {
          for (const name of ['seconds', 'electricJ', 'overReliefJ', 'cost'] as const) {
            const summed = parts
              .filter(({ month, phaseKind }) => month === total.month && phaseKind === total.phaseKind)
              .reduce((sum, part) => sum + part[name], 0)
            expect(near(summed, total[name])).toBe(true)
          }
        }
      }),
      { numRuns: 60 },
    )
  })

  it('every row closes: the streams add up to the input', () => {
    fc.assert(
      fc.property(fc.array(row, { minLength: 1, maxLength: 40 }), (rows) => {
        for (const total of roll(rows, iso(start))) {
          const { motorLossJ, pumpLossJ, overReliefJ, unloadingJ, intoSystemJ, unaccountedJ } = total
          const parts = motorLossJ + pumpLossJ + overReliefJ + unloadingJ + intoSystemJ + unaccountedJ
          expect(near(parts, total.electricJ)).toBe(true)
          expect(near((total.meteringJ ?? 0) + (total.workJ ?? 0), intoSystemJ)).toBe(true)
        }
      }),
      { numRuns: 60 },
    )
  })
})

it('the work is linear in samples and steps: reads are counted, not seconds', () => {
  const readsOf = (count: number) => {
    let reads = 0
    const counted = <Values extends object>(values: Values): Values =>
      new Proxy(values, {
        get: (target, name) => {
          reads += 1
          return Reflect.get(target, name)
        },
      })
    const rows = Array.from(
      { length: count },
      (_, i): Row => ({
        kind: i % 20 < 10 ? 'work-moving' : 'idle-loaded',
        holdS: 60,
        relief: 5000,
      }),
    )
    const { log, analysed } = logOf(rows, '2026-03-28T08:00Z')
    const { timeS, holdS, startedAtMs } = log.trace
    const trace = { timeS: counted(timeS), holdS: counted(holdS), startedAtMs }
    const account = { ...analysed.account, steps: counted([...analysed.account.steps]) }
    rollUp({ trace }, { ...analysed, account }, VIENNA)
    return reads
  }
  const [once, twice] = [readsOf(4000), readsOf(8000)]
  expect(once).toBeLessThan(20 * 4000)
  expect(twice / once).toBeLessThan(2.2)
})

function iso(epochMs: number): string {
  return new Date(epochMs).toISOString()
}

function near(a: number, b: number): boolean {
  return Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a), Math.abs(b))
}
