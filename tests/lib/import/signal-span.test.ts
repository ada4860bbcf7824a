import { describe, expect, it } from 'vitest'
import { analyse } from '@/lib/analyse'
import type { ChannelDeclaration } from '@/lib/contract/machine'
import { siteSchema } from '@/lib/contract/site'
import { dropOutOfSpan } from '@/lib/import/signal-span'
import { traceInFull } from '@/lib/samples/trace'
import { toSi } from '@/lib/units'
import { readText } from '../../laws/hand-csv'
import { HOLD, IDLE, METER, MOVE, OFF } from '../../laws/hand-duty'
import { HAND_MACHINE } from '../../laws/hand-machine'
import { handTrace, repeat } from '../../laws/hand-trace'
import { problem } from './log-text'

const NO = Number.NaN
const dropped = (values: readonly number[], from: [number, number], to: [number, number] = [0, 250]) => {
  const raw = Float64Array.from(values)
  return { found: dropOutOfSpan(raw, { from, to }), left: [...raw] }
}

/** 3.6 and 21 mA: the recommendation NAMUR NE 43, from memory. */
describe('a live-zero signal outside what a transmitter sends is missing', () => {
  it('4–20 mA: below 3.6 and above 21 mA', () => {
    const { found, left } = dropped([4, 3.7, 3.5, 0, 12, 20.9, 21.2, NO], [4, 20])
    expect(left).toEqual([4, 3.7, NO, NO, 12, 20.9, NO, NO])
    expect(found).toMatchObject({ below: 2, above: 1, firstRow: 2, reading: 3.5 })
    expect(found?.lowest).toBeCloseTo(3.6, 12)
    expect(found?.highest).toBeCloseTo(21, 12)
  })
  it.each<[string, [number, number], number[], number[]]>([
    ['1–5 V: below .9, above 5.25', [1, 5], [0.95, 0.85, 5.2, 5.3], [0.95, NO, 5.2, NO]],
    ['2–10 V: below 1.8, above 10.5', [2, 10], [1.9, 1.7, 10.4, 10.6], [1.9, NO, 10.4, NO]],
    ['4–20 mA in A', [0.004, 0.02], [0.0037, 0.0001], [0.0037, NO]],
    ['1–5 V in mV', [1000, 5000], [950, 20], [950, NO]],
    ['measured ends', [4.02, 19.97], [3.7, 3.4], [3.7, NO]],
    ['turned round: 20 mA is empty', [20, 4], [3.7, 0], [3.7, NO]],
  ])('%s', (_name, from, values, left) => {
    expect(dropped(values, from).left).toEqual(left)
  })
  it.each<[string, [number, number], [number, number]]>([
    ['0–10 V', [0, 10], [0, 250]],
    ['0–20 mA', [0, 20], [0, 250]],
    ['a plain change of unit', [1, 5], [100, 500]],
    ['counts of a converter', [0, 4095], [0, 250]],
    ['two points of a calibration', [30, 150], [0, 250]],
  ])('%s keeps what it reads, small readings below nil too', (_name, from, to) => {
    const values = [-0.05, 0, from[1], 1.3 * from[1]]
    const { found, left } = dropped(values, from, to)
    expect(left).toEqual(values)
    expect(found).toBeNull()
  })
})

const site = siteSchema.parse({})

/** The hand-worked duty with the load pressure logged as 4–20 mA of 250 bar. */
async function asMilliamperes(sent: (mA: number, i: number, n: number) => number) {
  const trace = handTrace([OFF, ...repeat([IDLE, MOVE, HOLD, METER], 8), OFF], {
    fitted: ['loadPressure', 'systemFlow', 'power'],
    noise: 0.001,
  })
  const own: Record<string, (si: number, i: number) => number> = {
    loadPressure: (si, i) => sent(4 + (16 * si) / toSi(250, 'bar'), i, trace.timeS.length),
  }
  const values = trace.channels.map(({ column, values }) => Array.from(values, own[column] ?? ((si) => si)))
  const rows = Array.from(trace.timeS, (t, i) => [t.toFixed(3), ...values.map((v) => v[i])].join(','))
  const text = [['time [s]', ...trace.channels.map(({ column }) => column)].join(','), ...rows].join('\n')
  const SCALES: Record<string, Pick<ChannelDeclaration, 'unit' | 'scale'>> = {
    loadPressure: { unit: 'bar', scale: { from: [4, 20], to: [0, 250] } },
    pumpPressure: { unit: 'bar', scale: { from: [0, toSi(1, 'bar')], to: [0, 1] } },
    systemFlow: { unit: 'L/min', scale: { from: [0, toSi(1, 'L/min')], to: [0, 1] } },
    power: { unit: 'kW', scale: { from: [0, 1000], to: [0, 1] } },
  }
  const channels = trace.channels.map(({ column, quantity, location }) => ({
    column,
    quantity,
    location,
    ...SCALES[column],
  }))
  const machine = { ...HAND_MACHINE, channels }
  const log = await readText(text, machine)
  return { log, analysis: analyse(log, machine, site).analysis }
}

describe('a scale that fits not one reading', () => {
  const pump = {
    column: 'P',
    quantity: 'pressure' as const,
    location: 'pump-outlet' as const,
    unit: 'bar' as const,
    scale: { from: [4, 20] as [number, number], to: [0, 250] as [number, number] },
  }
  const amperes = { column: 'I', quantity: 'current' as const, unit: 'A' as const }
  const machine = { ...HAND_MACHINE, channels: [pump, amperes] }
  // Amperes where milliamperes were declared.
  const text = ['time [s],P,I', ...Array.from({ length: 30 }, (_, i) => `${i},0.0142,50`)].join('\n')

  it('of the pump pressure is refused with place, reading and limits: nil would pass for a stopped machine', async () => {
    const failed = await readText(text, machine).catch((error: unknown) => error)
    expect(failed).toMatchObject({
      code: 'signal-never-in-span',
      values: { line: 2, column: 'P', reading: 0.0142, lowest: 3.6, highest: 21 },
    })
  })
  it('of another sensor is named, and the rest is read', async () => {
    const load = { ...pump, column: 'L', location: 'load' as const }
    const more = text
      .split('\n')
      .map((line, i) => (i === 0 ? 'time [s],L,I,P' : `${line},12`))
      .join('\n')
    const log = await readText(more, { ...HAND_MACHINE, channels: [pump, load, amperes] })
    expect(problem(log, 'signal-out-of-span', 'L')).toMatchObject({ count: 30 })
    // 12 mA is half of 250 bar.
    expect(traceInFull(log.trace).channels.find(({ column }) => column === 'P')?.values[0]).toBeCloseTo(
      125e5,
      3,
    )
  })
})

describe('a wire that breaks halfway through the log', () => {
  it('is named with its place, and the account stands on what is left', async () => {
    const whole = await asMilliamperes((mA) => mA)
    const broken = await asMilliamperes((mA, i, n) => (i < n / 2 ? mA : 0.02 + (i % 3) / 1000))
    expect(problem(whole.log, 'signal-out-of-span')).toBeUndefined()
    const rows = whole.log.report.rowsUsed
    expect(problem(broken.log, 'signal-out-of-span')).toMatchObject({
      column: 'loadPressure',
      count: Math.floor(rows / 2),
      // The header is line 1.
      line: 2 + Math.ceil(rows / 2),
      values: { below: Math.floor(rows / 2), above: 0 },
    })
    expect(problem(broken.log, 'stuck-sensor')).toBeUndefined()
    const load = traceInFull(broken.log.trace).channels.find(
      ({ column }) => column === 'loadPressure',
    )?.values
    expect(load?.[rows - 5]).toBeNaN()
    expect(Math.min(...(load?.subarray(0, rows / 2 - 1) ?? []))).toBeGreaterThan(-2e5)
    for (const key of ['electricIn', 'pumpLoss', 'overRelief', 'intoSystem'] as const) {
      const [was, is] = [whole, broken].map(({ analysis }) => analysis.ledgerKWh[key].value)
      expect(Math.abs(is - was)).toBeLessThan(0.01 * whole.analysis.ledgerKWh.electricIn.value)
    }
    const [was, is] = [whole, broken].map(({ analysis }) => analysis.ledgerKWh.work?.value ?? NO)
    expect(Math.abs(is / was - 1)).toBeLessThan(0.03)
    expect(broken.analysis.phases.length).toBe(whole.analysis.phases.length)
  })
})
