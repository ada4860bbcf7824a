import { describe, expect, it } from 'vitest'
import { analyse } from '@/lib/analyse'
import type { Correction } from '@/lib/contract/corrections'
import { type Analysis, PHASE_KINDS } from '@/lib/contract/result'
import { siteSchema } from '@/lib/contract/site'
import { csvOf, readText } from './hand-csv'
import { HOLD, IDLE, METER, MOVE, OFF } from './hand-duty'
import { HAND_MACHINE } from './hand-machine'
import { handTrace, type MeterName, type Piece, repeat } from './hand-trace'

/** Laws of corrections: they move energy between kinds of phase and lose none. They need no source. */
const CYCLE: readonly Piece[] = [IDLE, MOVE, HOLD, METER]
const DUTY: readonly Piece[] = [
  OFF,
  ...repeat(CYCLE, 4),
  { ...IDLE, gapBeforeS: 40 },
  MOVE,
  ...repeat(CYCLE, 3),
]
const SUITES: readonly (readonly MeterName[])[] = [
  ['systemFlow', 'current'],
  ['pumpFlow', 'current'],
  ['loadPressure', 'systemFlow', 'power'],
]
const site = siteSchema.parse({})
const PARTS = ['motorLoss', 'pumpLoss', 'overRelief', 'unloading', 'intoSystem', 'unaccounted'] as const

async function analyser(fitted: readonly MeterName[]) {
  const { text, channels } = csvOf(handTrace(DUTY, { fitted, noise: 0.003, seed: 4 }))
  const machine = { ...HAND_MACHINE, channels }
  const log = await readText(text, machine)
  return (corrections?: readonly Correction[]): Analysis => analyse(log, machine, site, corrections).analysis
}

describe.each(SUITES.map((fitted) => ({ fitted, name: fitted.join(', ') })))('$name', async ({ fitted }) => {
  const analysed = await analyser(fitted)
  const plain = analysed()

  it('correcting phases to the kind they have changes no figure', () => {
    const same = plain.phases.map(({ kind, startS, endS }) => ({ kind, startS, endS }))
    const { phases, corrections, ...figures } = analysed(same)
    const { phases: found, corrections: none, ...wanted } = plain
    // A person's word outranks the longest hold: with all said, its choice makes no difference.
    const { byLongestHoldS } = figures.idle
    expect(new Set(Object.values(byLongestHoldS))).toEqual(new Set([plain.idle.byLongestHoldS['15']]))
    expect(figures).toEqual({ ...wanted, idle: { ...wanted.idle, byLongestHoldS } })
    expect(none).toEqual([])
    expect(phases).toEqual(found.map((phase) => ({ ...phase, corrected: true })))
    expect(corrections).toHaveLength(found.length)
  })

  it('confirming a part of a phase moves no energy beyond a thousandth of the input', () => {
    const { startS, endS, kind } =
      plain.phases.find((phase) => phase.kind === 'idle-loaded') ?? plain.phases[0]
    const part = analysed([{ startS: startS + 3, endS: endS - 4, kind }])
    expect(part.phases.map(({ corrected: _, ...phase }) => phase)).toEqual(plain.phases)
    for (const key of ['electricIn', ...PARTS] as const) {
      const moved = Math.abs(part.ledgerKWh[key].value - plain.ledgerKWh[key].value)
      expect(moved, key).toBeLessThan(0.001 * plain.ledgerKWh.electricIn.value)
    }
  })

  it.each(PHASE_KINDS)('the account closes where a stretch is said to be %s', (kind) => {
    // Over two phases and the gap.
    const said = analysed([
      { startS: 20, endS: 33, kind },
      { startS: 140, endS: 190, kind },
    ])
    const rows = [said.ledgerKWh, ...Object.values(said.ledgerByPhase)]
    for (const row of rows) {
      const sum = PARTS.reduce((total, key) => total + row[key].value, 0)
      expect(Math.abs(sum - row.electricIn.value)).toBeLessThan(1e-10)
    }
    for (const key of ['electricIn', ...PARTS] as const) {
      const sum = Object.values(said.ledgerByPhase).reduce((total, row) => total + row[key].value, 0)
      expect(Math.abs(sum - said.ledgerKWh[key].value)).toBeLessThan(1e-10)
    }
    const { idle, overRelief, metering, work, unaccounted } = said.meterSharesKWh
    const bill = idle.value + overRelief.value + (metering?.value ?? 0) + work.value + unaccounted.value
    expect(Math.abs(bill - said.ledgerKWh.electricIn.value)).toBeLessThan(1e-9)
  })

  it('a hold said to be idle is idle in hours and energy, whatever the longest hold', () => {
    const hold = plain.phases.find((phase) => phase.kind === 'work-holding') ?? plain.phases[0]
    const seconds = hold.endS - hold.startS
    const said = analysed([{ startS: hold.startS, endS: hold.endS, kind: 'idle-loaded' }])
    expect(said.idle.hours - plain.idle.hours).toBeCloseTo(seconds / 3600, 9)
    const holdKWh = (plain.ledgerByPhase['work-holding'].electricIn.value * seconds) / (7 * 3)
    for (const longest of ['5', '15', '30']) {
      const more = said.idle.byLongestHoldS[longest] - plain.idle.byLongestHoldS[longest]
      expect(more / holdKWh).toBeGreaterThan(0.9)
      expect(more / holdKWh).toBeLessThan(1.1)
    }
  })
})
