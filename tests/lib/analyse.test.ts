import { describe, expect, it } from 'vitest'
import { analyse } from '@/lib/analyse'
import type { Machine } from '@/lib/contract/machine'
import { type Analysis, analysisSchema } from '@/lib/contract/result'
import { siteSchema } from '@/lib/contract/site'
import { wholeAccount } from '../invented/whole-account'
import { csvOf, readText } from '../laws/hand-csv'
import { HOLD, IDLE, METER, MOVE, OFF } from '../laws/hand-duty'
import { HAND_MACHINE, handRunKW } from '../laws/hand-machine'
import { handTrace, type MeterName, type Piece, repeat } from '../laws/hand-trace'

/** The rules checked are the contract's ("The result"); the figures are worked out by hand. */
const CYCLE: readonly Piece[] = [IDLE, MOVE, HOLD, METER]
const site = siteSchema.parse({ plannedHoursPerYear: 4000, energyPricePerKWh: 0.18, emissionKgPerKWh: 0.25 })

async function analysed(
  pieces: readonly Piece[],
  fitted: readonly MeterName[] = ['loadPressure', 'systemFlow', 'power'],
  machine: Machine = HAND_MACHINE,
) {
  const { text, channels } = csvOf(handTrace(pieces, { fitted }))
  const own = { ...machine, channels }
  return analyse(await readText(text, own), own, site)
}

const close = (sum: number, whole: number) => expect(Math.abs(sum - whole)).toBeLessThan(1e-9)

describe('one recording, from text to result', () => {
  const pieces = [OFF, ...repeat(CYCLE, 3), { ...IDLE, gapBeforeS: 45 }, MOVE, ...repeat(CYCLE, 3), OFF]

  it('has the shape of the contract, and JSON keeps it', async () => {
    const { analysis } = await analysed(pieces)
    expect(analysisSchema.parse(JSON.parse(JSON.stringify(analysis)))).toEqual(analysis)
  })

  it('keeps time as the contract says', async () => {
    const { log, phases } = (await analysed(pieces)).analysis
    // 10 + 3·34 + 20 + 6 + 3·34 + 10 = 250 s of samples and 45 s without.
    expect(log.rowsRead).toBe(2500)
    expect(log.rowsUsed + log.rowsRejected).toBe(log.rowsRead)
    expect(log.sampleIntervalS).toBe(0.1)
    expect(log.durationS).toBeCloseTo(295, 6)
    expect(log.startedAt).toBeNull()
    expect(log.gaps).toHaveLength(1)
    expect(log.gaps[0].startS).toBeCloseTo(112, 6)
    expect(log.gaps[0].endS).toBeCloseTo(157, 6)
    expect(phases[0].startS).toBe(0)
    expect(phases.at(-1)?.endS).toBeCloseTo(295, 6)
    let gaps = 0
    for (let i = 1; i < phases.length; i++) {
      if (Math.abs(phases[i].startS - phases[i - 1].endS) > 1e-6) {
        gaps += 1
        expect(phases[i - 1].endS).toBeCloseTo(112, 6)
        expect(phases[i].startS).toBeCloseTo(157, 6)
      }
    }
    expect(gaps).toBe(1)
  })

  it('the kinds of phases add up: energy to the log’s, hours to the sampled time', async () => {
    const { analysis } = await analysed(pieces)
    const rows = Object.values(analysis.ledgerByPhase)
    const sum = (read: (row: (typeof rows)[number]) => number) =>
      rows.reduce((total, row) => total + read(row), 0)
    for (const key of [
      'electricIn',
      'motorLoss',
      'pumpLoss',
      'overRelief',
      'unloading',
      'intoSystem',
    ] as const) {
      close(
        sum((row) => row[key].value),
        analysis.ledgerKWh[key].value,
      )
    }
    expect(sum((row) => row.hours)).toBeCloseTo(250 / 3600, 9)
    const { idle, overRelief, metering, work, unaccounted } = analysis.meterSharesKWh
    close(
      idle.value + overRelief.value + (metering?.value ?? 0) + work.value + unaccounted.value,
      analysis.ledgerKWh.electricIn.value,
    )
  })

  it('idle: hours, energy, and its cost over the planned hours by hand', async () => {
    const { idle, meterSharesKWh } = (await analysed(pieces)).analysis
    const seconds = 7 * 20
    const idleKWh = (handRunKW(160) * seconds) / 3600
    expect(idle.hours).toBeCloseTo(seconds / 3600, 9)
    expect(idle.electricKWh.value / idleKWh).toBeCloseTo(1, 4)
    expect(meterSharesKWh.idle.value / idleKWh).toBeCloseTo(1, 4)
    // 230 s of running logged, 4000 h planned, 0.18 a kWh.
    const cost = (idleKWh / (230 / 3600)) * 4000 * 0.18
    expect(idle.costPerYear.value / cost).toBeCloseTo(1, 4)
    expect(Object.keys(idle.byLongestHoldS)).toEqual(['5', '15', '30'])
  })

  it('the account is there sample by sample', async () => {
    const { analysis, account } = await analysed(pieces)
    let sumJ = 0
    for (const watts of wholeAccount(account).electricIn) sumJ += watts * 0.1
    expect(sumJ / 3.6e6 / analysis.ledgerKWh.electricIn.value).toBeCloseTo(1, 9)
  })

  it('the same input gives the same numbers', async () => {
    const [first, second] = [await analysed(pieces), await analysed(pieces)]
    expect(JSON.stringify(first.analysis)).toBe(JSON.stringify(second.analysis))
  })
})

describe('what sensors cannot tell', () => {
  it('metering and work are null together, work at the meter means into the system', async () => {
    const { analysis } = await analysed(repeat(CYCLE, 6), ['systemFlow', 'current'])
    expect(analysis.ledgerKWh.metering).toBeNull()
    expect(analysis.ledgerKWh.work).toBeNull()
    expect(analysis.meterSharesKWh.metering).toBeNull()
    expect(analysis.meterSharesKWh.work.value).toBeGreaterThan(0)
    expect(analysis.notSeparable.map(({ stream }) => stream)).toEqual(['metering', 'work'])
  })

  it('what cannot occur is nil: nothing unloads on a machine without unloading', async () => {
    const { analysis } = await analysed(repeat(CYCLE, 6))
    expect(analysis.ledgerKWh.unloading.value).toBe(0)
  })

  it('without a date there is no start, and the price is the plain one', async () => {
    const { analysis } = await analysed(repeat(CYCLE, 6))
    expect(analysis.log.endedAt).toBeNull()
    const vent = analysis.options.find(({ id }) => id === 'vent-relief-at-idle')
    expect((vent?.savedCostPerYear?.value ?? 0) / (vent?.savedKWhPerYear?.value ?? 1)).toBeCloseTo(0.18, 9)
  })
})

describe('logs at the edge', () => {
  const cases: readonly (readonly [string, readonly Piece[]])[] = [
    ['stopped throughout', [{ ...OFF, seconds: 60 }]],
    ['idle throughout', [{ ...IDLE, seconds: 60 }]],
    ['at work throughout', [{ ...MOVE, seconds: 60 }]],
    ['three samples', [{ ...MOVE, seconds: 0.3 }]],
  ]
  it.each(cases)('%s: every figure is a number and the account closes', async (_name, pieces) => {
    const { analysis } = await analysed(pieces)
    expect(() => analysisSchema.parse(JSON.parse(JSON.stringify(analysis)))).not.toThrow()
    const row = analysis.ledgerKWh
    close(
      row.motorLoss.value +
        row.pumpLoss.value +
        row.overRelief.value +
        row.unloading.value +
        row.intoSystem.value +
        row.unaccounted.value,
      row.electricIn.value,
    )
  })

  it.each([
    ['five seconds of an idle', 50, 100, 0.001],
    ['a whole stroke', 330, 690, 0.35],
  ] as const)(
    'pump pressure and current away together for %s: figures stay numbers',
    async (_name, from, to, off) => {
      const pieces = repeat(CYCLE, 4)
      const { text, channels } = csvOf(handTrace(pieces, { fitted: ['systemFlow', 'current'] }))
      const lines = text.split('\n').map((line, i) => {
        const [time, pressure, flow, amps] = line.split(',')
        return i > from && i <= to ? `${time},,${flow},` : [time, pressure, flow, amps].join(',')
      })
      const machine = { ...HAND_MACHINE, channels }
      const { analysis } = analyse(await readText(lines.join('\n'), machine), machine, site)
      const kept: Analysis = analysisSchema.parse(JSON.parse(JSON.stringify(analysis)))
      const handKWh = pieces.reduce((sum, piece) => sum + (handRunKW(piece.bar) * piece.seconds) / 3600, 0)
      expect(Math.abs(kept.ledgerKWh.electricIn.value / handKWh - 1)).toBeLessThan(off)
      const missing = kept.log.problems.filter(({ code }) => code === 'unreadable-cell')
      expect(missing.reduce((sum, { count }) => sum + count, 0)).toBe(2 * (to - from))
    },
  )

  it('missing cells leave every figure a number', async () => {
    const trace = handTrace(repeat(CYCLE, 4), { fitted: ['loadPressure', 'systemFlow', 'current'] })
    const { text, channels } = csvOf(trace)
    const lines = text.split('\n')
    for (let i = 400; i < 460; i++) {
      const cells = lines[i].split(',')
      cells[1 + (i % 2)] = ''
      cells[2] = i < 430 ? '' : cells[2]
      lines[i] = cells.join(',')
    }
    const machine = { ...HAND_MACHINE, channels }
    const { analysis } = analyse(await readText(lines.join('\n'), machine), machine, site)
    const kept: Analysis = analysisSchema.parse(JSON.parse(JSON.stringify(analysis)))
    expect(kept.ledgerKWh.electricIn.value).toBeGreaterThan(0)
  })
})
