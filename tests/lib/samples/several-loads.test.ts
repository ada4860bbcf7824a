import { describe, expect, it } from 'vitest'
import type { LedgerKWh } from '@/lib/contract/result'
import { ledgerKWh } from '@/lib/ledger/estimates'
import { accountFor } from '@/lib/ledger/ledger'
import { sensorOffsets } from '@/lib/ledger/offsets'
import { sensorProblems } from '@/lib/ledger/sensor-problems'
import { normal, seededRandom } from '@/lib/numeric/random'
import { highestLoad } from '@/lib/samples/highest-load'
import { loadZeros } from '@/lib/samples/load-zeros'
import { inFull } from '@/lib/samples/samples'
import { readSensors, type Sensor } from '@/lib/samples/sensors'
import type { FullChannel, FullTrace } from '@/lib/samples/trace'
import { IDLE, METER, MOVE, OFF } from '../../laws/hand-duty'
import { HAND_MACHINE, handFlowLpm } from '../../laws/hand-machine'
import { handTrace, type Piece, repeat } from '../../laws/hand-trace'

const BAR = 1e5
const NO = Number.NaN
/** 1 % of 250 bar. */
const LIMIT = 2.5 * BAR
const TIMES = { sampleIntervalS: 0.1 }

const sensor = (column: string, bars: readonly number[], limit = LIMIT): Sensor => ({
  column,
  values: Float64Array.from(bars, (bar) => bar * BAR),
  limit,
})
const barsOf = (values: Iterable<number>) => Array.from(values, (value) => Math.round(value / 100) / 1000)
/** Stopped for 20 samples, then each piece of bars for 20. */
const held = (...bars: number[]) => bars.flatMap((bar) => Array<number>(20).fill(bar))

describe('what several load sensors show at rest', () => {
  const pump = sensor('P', held(0.3, 100, 100))

  it('lies on one zero once their distances from the mean are off: +.8 and −.6 are .7 either side of .1', () => {
    const loads = [sensor('A', held(0.8, 70.8, 0.8)), sensor('B', held(-0.6, -0.6, 59.4))]
    const zeros = loadZeros(loads, pump, TIMES)
    expect(barsOf(zeros.map(({ offsetPa }) => offsetPa))).toEqual([0.7, -0.7])
    // The true loads are 0, 70 and 60 bar; what is left is .1 bar for all of them.
    expect(barsOf(inFull(highestLoad(loads, zeros).values))).toEqual(held(0.1, 70.1, 60.1))
  })

  it('the surer of them moves less: limits of 2.5 and 1.25 bar weigh 1 to 4', () => {
    const loads = [sensor('A', held(1, 70, 1)), sensor('B', held(0, 0, 60), LIMIT / 2)]
    expect(barsOf(loadZeros(loads, pump, TIMES).map(({ offsetPa }) => offsetPa))).toEqual([0.8, -0.2])
  })

  it('a pressure that all of them share is no difference', () => {
    const loads = [sensor('A', held(1.5, 70, 1)), sensor('B', held(1.5, 0, 60))]
    expect(loadZeros(loads, pump, TIMES).map(({ offsetPa }) => offsetPa)).toEqual([0, 0])
  })

  it('a load that dies away after the stop is no rest reading', () => {
    const dying = [...Array.from({ length: 20 }, (_, i) => Math.max(0.8, 4 - 0.4 * i)), ...held(70, 0.8)]
    const zeros = loadZeros([sensor('A', dying), sensor('B', held(-0.6, -0.6, 60))], pump, TIMES)
    expect(barsOf(zeros.map(({ restPa }) => restPa))).toEqual([0.8, -0.6])
  })

  it('a sensor that rests beyond twice its limit holds a load: left as it is and named, the others compared', () => {
    const loads = [
      sensor('A', held(0.8, 70.8, 0.8)),
      sensor('B', held(-0.6, -0.6, 59.4)),
      sensor('C', held(12, 12, 12)),
    ]
    const zeros = loadZeros(loads, pump, TIMES)
    expect(barsOf(zeros.map(({ offsetPa }) => offsetPa))).toEqual([0.7, -0.7, 0])
    expect(zeros.map(({ isOffset }) => isOffset)).toEqual([true, true, false])
    expect(zeros[2].restPa).toBeCloseTo(12 * BAR, 6)
  })

  it('never stopped: the moments at which none stands tell, within one limit', () => {
    const running = sensor('P', held(160, 100, 100))
    const near = [sensor('A', held(0.8, 70.8, 0.8)), sensor('B', held(-0.6, -0.6, 59.4))]
    expect(barsOf(loadZeros(near, running, TIMES).map(({ offsetPa }) => offsetPa))).toEqual([0.7, -0.7])
    // 3 bar with the pump turning may well be the back pressure of a line.
    const far = [sensor('A', held(3, 70, 3)), sensor('B', held(0, 0, 60))]
    const left = loadZeros(far, running, TIMES)
    expect(left.map(({ offsetPa, isOffset }) => [offsetPa, isOffset])).toEqual([
      [0, true],
      [0, true],
    ])
  })

  it('never all at rest together: nothing is taken off', () => {
    const loads = [sensor('A', held(0, 70, 0.8)), sensor('B', held(50, 0, 60))]
    const zeros = loadZeros(loads, sensor('P', held(100, 100, 100)), TIMES)
    expect(zeros.map(({ offsetPa }) => offsetPa)).toEqual([0, 0])
    expect(loadZeros([loads[0]], pump, TIMES)).toEqual([])
  })
})

describe('the highest of them', () => {
  const random = seededRandom(5)
  const noisy = (level: number, n = 4000, sd = 0.3) =>
    Array.from({ length: n }, () => level + sd * normal(random))
  const none = (loads: readonly Sensor[]) =>
    loadZeros(loads, sensor('P', Array(inFull(loads[0].values).length).fill(100)), TIMES).map((zero) => ({
      ...zero,
      offsetPa: 0,
    }))
  const mean = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0) / values.length

  it('of equal noisy readings is not lifted by noise: E max of two normal is .564 sd above them', () => {
    const loads = [sensor('A', noisy(20)), sensor('B', noisy(20))]
    const plain = inFull(loads[0].values).map((value, i) => Math.max(value, inFull(loads[1].values)[i]))
    expect(mean(plain) / BAR).toBeCloseTo(20 + 0.564 * 0.3, 1)
    // Standard error 0.3/√4000 = 0.005 bar.
    expect(Math.abs(mean(inFull(highestLoad(loads, none(loads)).values)) / BAR - 20)).toBeLessThan(0.02)
  })

  it('clearly above the others is read as it is, from its first sample on', () => {
    const a = [...noisy(0, 50), ...noisy(90, 50), ...noisy(0, 50)]
    const b = [...noisy(0, 50), ...noisy(0, 50), ...noisy(30, 50)]
    const loads = [sensor('A', a), sensor('B', b)]
    const values = inFull(highestLoad(loads, none(loads)).values)
    expect([...values.subarray(50, 100)]).toEqual([...inFull(loads[0].values).subarray(50, 100)])
    expect([...values.subarray(100)]).toEqual([...inFull(loads[1].values).subarray(100)])
  })

  it('by little is found within a second: 1 bar in .3 bar of noise', () => {
    const loads = [sensor('A', noisy(20, 200)), sensor('B', [...noisy(20, 100), ...noisy(21, 100)])]
    const values = inFull(highestLoad(loads, none(loads)).values)
    expect([...values.subarray(112)]).toEqual([...inFull(loads[1].values).subarray(112)])
  })

  it('missing readings leave the others, and none is none', () => {
    const loads = [sensor('A', [NO, 90, 90, NO, 90]), sensor('B', [70, 20, NO, NO, 20])]
    expect(barsOf(inFull(highestLoad(loads, none(loads)).values))).toEqual([70, 90, 90, NO, 90])
  })
})

/**
 * A machine with two actuators: A moves at 70 bar, B is metered at 60 bar, and further rounds move B alone.
 * Sensors of 250 bar with .25 bar of noise read A .8 bar too high and B .6 bar too low.
 */
const MOVE_B: Piece = { ...MOVE, bar: 90, loadBar: 75, systemLpm: handFlowLpm(90) }
const pieces = [OFF, ...repeat([IDLE, MOVE, METER, MOVE_B], 6), OFF]

function twoLoads(offsetA: number, offsetB: number, noiseBar: number): FullTrace {
  const trace = handTrace(pieces, { fitted: ['systemFlow', 'power'], noise: noiseBar / 250 })
  const which = pieces.flatMap((piece) => Array<Piece>(Math.round(piece.seconds * 10)).fill(piece))
  const random = seededRandom(9)
  const load = (column: string, moves: (piece: Piece) => boolean, offset: number): FullChannel => ({
    column,
    quantity: 'pressure',
    location: 'load',
    unit: 'bar',
    accuracy: { percentOfFullScale: 1, fullScale: 250 },
    values: Float64Array.from(
      which,
      (piece) => ((moves(piece) ? (piece.loadBar ?? 0) : 0) + offset + noiseBar * normal(random)) * BAR,
    ),
  })
  const a = load('A', (piece) => piece === MOVE, offsetA)
  const b = load('B', (piece) => piece === METER || piece === MOVE_B, offsetB)
  return { ...trace, channels: [...trace.channels, a, b] }
}

/** The same with one channel that holds the larger of both readings. */
function withPlainMaximum(trace: FullTrace): FullTrace {
  const [a, b] = trace.channels.slice(-2)
  const values = a.values.map((value, i) => Math.max(value, b.values[i]))
  return { ...trace, channels: [...trace.channels.slice(0, -2), { ...a, values }] }
}

describe('a machine with two load sensors that are off in different ways', () => {
  const trace = twoLoads(0.8, -0.6, 0.25)
  const ledger = accountFor(trace, HAND_MACHINE)
  const plain = accountFor(withPlainMaximum(trace), HAND_MACHINE)
  // p_load·Q over the rounds, kWh: 70 bar · 87.75, 60 bar · 42.885 and 75 bar · 87.47 L/min.
  const kWhOf = ({ loadBar = 0, systemLpm = 0, seconds }: Piece) =>
    (6 * ((loadBar * systemLpm) / 600) * seconds) / 3600
  const trueWork = [MOVE, METER, MOVE_B].reduce((sum, piece) => sum + kWhOf(piece), 0)
  const trueMetering =
    [MOVE, METER, MOVE_B].reduce((sum, piece) => sum + kWhOf({ ...piece, loadBar: piece.bar }), 0) - trueWork
  const found = ledgerKWh(ledger)
  const before = ledgerKWh(plain)
  const miss = (kWh: LedgerKWh, key: 'work' | 'metering', truth: number) =>
    Math.abs((kWh[key]?.value ?? NO) / truth - 1)

  it('work and metering lie nearer the truth than with the larger reading, and within half a per cent', () => {
    expect(miss(before, 'work', trueWork)).toBeGreaterThan(0.01)
    expect(miss(found, 'work', trueWork)).toBeLessThan(0.005)
    expect(miss(found, 'work', trueWork)).toBeLessThan(0.4 * miss(before, 'work', trueWork))
    expect(miss(found, 'metering', trueMetering)).toBeLessThan(0.4 * miss(before, 'metering', trueMetering))
    expect(found.work?.low).toBeLessThan(trueWork)
    expect(found.work?.high).toBeGreaterThan(trueWork)
  })

  it('what was taken off each stands in the result, in its unit', () => {
    const offsets = sensorOffsets(ledger, trace.channels)
    const of = (column: string) => offsets.find((one) => one.column === column)?.offset
    expect(of('A')).toBeCloseTo(0.8, 1)
    expect(of('B')).toBeCloseTo(-0.6, 1)
    expect(sensorProblems(ledger).map(({ code }) => code)).not.toContain('load-at-rest')
  })

  it('a load held through the stop is named', () => {
    const third: FullChannel = {
      ...trace.channels[trace.channels.length - 1],
      column: 'C',
      values: new Float64Array(trace.timeS.length).fill(12 * BAR),
    }
    const named = sensorProblems(
      accountFor({ ...trace, channels: [...trace.channels, third] }, HAND_MACHINE),
    ).find(({ code }) => code === 'load-at-rest')
    expect(named?.column).toBe('C')
    expect(named?.values.restBar).toBeCloseTo(12, 6)
    expect(named?.values.limitBar).toBeCloseTo(2.5, 6)
  })
})

describe('a spike of one of several load sensors', () => {
  it('is taken out before the highest is told, and named with its own column', () => {
    const pieces = repeat([IDLE, MOVE, METER], 6)
    const quiet = handTrace([...pieces, OFF], { fitted: ['loadPressure', 'systemFlow', 'power'], rateHz: 20 })
    const load = quiet.channels.find(({ location }) => location === 'load')
    if (!load) throw new Error('no load sensor')
    const second: FullChannel = { ...load, column: 'Second load', values: load.values.map((pa) => 0.5 * pa) }
    const trace: FullTrace = { ...quiet, channels: [...quiet.channels, second] }
    const clean = readSensors(trace).loadPressure?.values
    // While idle both loads are nil; while moving the second lies below the first.
    for (const i of [250, 470, 505]) second.values[i] = 200 * BAR
    const { loadPressure, faults } = readSensors(trace)
    expect(loadPressure?.values).toEqual(clean)
    expect(faults).toMatchObject([{ code: 'sensor-spike', column: 'Second load', count: 3 }])
  })
})
