import { describe, expect, it } from 'vitest'
import { randomMachine, type SensorCase } from '@/app/_plant/random-machine'
import type { Recording } from '@/app/_plant/sensors'
import { simulate } from '@/app/_plant/simulate'
import type { MachineSpec, Signal } from '@/app/_plant/spec'
import type { Location, Quantity } from '@/lib/contract/machine'
import type { PlacedTrace } from '@/lib/import/change-series'
import { findClockShift } from '@/lib/import/clock-shift'
import { joinLogs } from '@/lib/import/join-logs'
import { type Random, seededRandom } from '@/lib/numeric/random'
import { timeline } from '@/lib/samples/timeline'
import { traceInFull } from '@/lib/samples/trace'
import { readText } from './log-text'

const RATE_HZ = 20
const MEANS: Readonly<Partial<Record<Signal, readonly [Quantity, Location]>>> = {
  pumpPressurePa: ['pressure', 'pump-outlet'],
  loadPressurePa: ['pressure', 'load'],
  systemFlowM3S: ['flow', 'system-line'],
  pumpFlowM3S: ['flow', 'pump-outlet'],
  reliefFlowM3S: ['flow', 'relief-return'],
  currentA: ['current', 'motor-supply'],
  powerW: ['power', 'motor-supply'],
}
const ELECTRIC: readonly Signal[] = ['currentA', 'powerW']

interface Logger {
  readonly signals: (signal: Signal) => boolean
  readonly everyRows: number
  readonly jitterRows: number
  /** Its clock shows the time less so much … */
  readonly behindS: number
  /** … and gains so much a second. */
  readonly gain?: number
}

/** What one logger of two writes of a simulated machine: its own channels, its own rate, its own clock. */
function logged({ timeS, columns }: Recording, logger: Logger, random: Random): PlacedTrace {
  const rows: number[] = []
  for (let i = Math.floor(random() * logger.everyRows); i < timeS.length; i += logger.everyRows) {
    const row = Math.min(
      timeS.length - 1,
      Math.max(0, i + Math.round((2 * random() - 1) * logger.jitterRows)),
    )
    if (row > (rows.at(-1) ?? -1)) rows.push(row)
  }
  const stampsS = rows.map((row) => timeS[row] * (1 + (logger.gain ?? 0)) - logger.behindS)
  const axis = Float64Array.from(stampsS, (stamp) => stamp - stampsS[0])
  const channels = columns.flatMap(({ sensor, values }) => {
    const means = MEANS[sensor.signal]
    if (!means || !logger.signals(sensor.signal)) return []
    const [quantity, location] = means
    const { column, unit } = sensor
    return [
      {
        column,
        quantity,
        location,
        unit,
        accuracy: null,
        values: Float64Array.from(rows, (row) => values[row]),
      },
    ]
  })
  return { startS: stampsS[0], trace: { timeS: axis, ...timeline(axis), channels, startedAtMs: null } }
}

function recorded(spec: MachineSpec, seed: number, durationS: number): Recording {
  return simulate(spec, { seed, durationS, rateHz: RATE_HZ }).recording
}

const hydraulic = { signals: (signal: Signal) => !ELECTRIC.includes(signal), jitterRows: 2, behindS: 0 }
const electric = { signals: (signal: Signal) => ELECTRIC.includes(signal), jitterRows: 2 }

/** A machine whose cycles are all alike: a shift by a whole one changes nothing. */
function alike(spec: MachineSpec): MachineSpec {
  const middle = (range: readonly [number, number]): [number, number] => {
    const value = (range[0] + range[1]) / 2
    return [value, value]
  }
  const { duty } = spec
  const steps = duty.steps.map((step) => ({
    ...step,
    durationS: middle(step.durationS),
    ...('load' in step && step.load ? { load: middle(step.load) } : {}),
    ...('flow' in step && step.flow ? { flow: middle(step.flow) } : {}),
  }))
  const pause = { ...duty.pause, share: 0 }
  return { ...spec, duty: { ...duty, steps, idleS: middle(duty.idleS), pause } }
}

describe('two loggers on one machine, each with a clock of its own', () => {
  const machines = Array.from({ length: 12 }, (_, i) => {
    const seed = i + 1
    const random = seededRandom(seed * 77)
    const sensors: SensorCase = (['a', 'b', 'c'] as const)[seed % 3]
    const everyRows = [2, 4, 20][Math.floor(random() * 3)]
    const otherEveryRows = [2, 10, 20, 40][Math.floor(random() * 4)]
    const slowestS = Math.max(everyRows, otherEveryRows) / RATE_HZ
    // No two clocks are told apart by less than an interval of the slower logger.
    const far = (random() < 0.5 ? -1 : 1) * (slowestS + 0.5 + random() * (29.5 - slowestS))
    const behindS = seed % 4 === 0 ? 0 : Math.round(far * 100) / 100
    return { seed, random, sensors, everyRows, otherEveryRows, slowestS, behindS }
  })
  it.each(machines)(
    'machine $seed ($sensors, rows $everyRows and $otherEveryRows): $behindS s apart',
    (machine) => {
      const { seed, random, sensors, everyRows, otherEveryRows, slowestS, behindS } = machine
      const recording = recorded(randomMachine(seed, sensors), seed, 1200)
      const first = logged(recording, { ...hydraulic, everyRows }, random)
      const second = logged(recording, { ...electric, everyRows: otherEveryRows, behindS }, random)
      const found = findClockShift(first, second)
      if (behindS === 0) {
        expect(found.kind).toBe('agree')
        return
      }
      const shifts = found.kind === 'apart' ? [found.shift] : found.kind === 'ambiguous' ? found.shifts : []
      expect(shifts.length).toBeGreaterThan(0)
      // The smallest of several that fit is the one that is likeliest.
      expect(Math.abs(shifts[0].shiftS - behindS)).toBeLessThan(slowestS)
      expect(shifts[0].doubtS).toBeLessThan(slowestS)
    },
  )
  it('are never taken for apart where cycles are all alike and the clocks agree', () => {
    for (const seed of [1, 2, 3]) {
      const random = seededRandom(seed)
      const recording = recorded(alike(randomMachine(seed, 'a')), seed, 1800)
      const first = logged(recording, { ...hydraulic, everyRows: 2 }, random)
      const second = logged(recording, { ...electric, everyRows: 20, behindS: 0 }, random)
      expect(findClockShift(first, second)).toEqual({ kind: 'agree' })
    }
  })
  it('are ambiguous by whole cycles where those are all alike', () => {
    for (const seed of [2, 6]) {
      const random = seededRandom(seed)
      const recording = recorded(alike(randomMachine(seed, 'a')), seed, 1800)
      const first = logged(recording, { ...hydraulic, everyRows: 2 }, random)
      const second = logged(recording, { ...electric, everyRows: 20, behindS: 3.4 }, random)
      const found = findClockShift(first, second)
      expect(found.kind).toBe('ambiguous')
      if (found.kind !== 'ambiguous') continue
      expect(Math.abs(found.shifts[0].shiftS - 3.4)).toBeLessThan(1)
      expect(found.shifts.length).toBeGreaterThan(1)
    }
  })
  it('tell nothing where the two recordings have nothing to do with each other', () => {
    for (const seed of [1, 3, 5]) {
      const random = seededRandom(seed)
      const spec = randomMachine(seed, 'a')
      const first = logged(recorded(spec, seed, 1800), { ...hydraulic, everyRows: 2 }, random)
      const other = recorded(spec, seed + 1000, 1800)
      const second = logged(other, { ...electric, everyRows: 20, behindS: 5 }, random)
      expect(findClockShift(first, second).kind).toBe('untold')
    }
  })
  it('are followed where one gains on the other', () => {
    const random = seededRandom(9)
    const recording = simulate(randomMachine(3, 'a'), {
      seed: 3,
      durationS: 10_800,
      rateHz: RATE_HZ,
      fineHz: 40,
    }).recording
    for (const gain of [1e-4, 2e-4]) {
      const first = logged(recording, { ...hydraulic, everyRows: 4, jitterRows: 0 }, random)
      const second = logged(
        recording,
        { ...electric, everyRows: 20, jitterRows: 0, behindS: 5, gain },
        random,
      )
      const found = findClockShift(first, second)
      expect(found.kind).toBe('apart')
      if (found.kind !== 'apart') continue
      const { shift } = found
      for (const atS of [0, 10_800]) {
        const shiftS = shift.shiftS + shift.drift * (atS - shift.middleS)
        // One interval of the slower logger.
        expect(Math.abs(shiftS - (5 - gain * atS))).toBeLessThan(1)
      }
    }
  })
})

describe('files of two loggers', () => {
  const START_MS = Date.UTC(2026, 2, 2, 6)
  const stamp = (s: number): string => new Date(START_MS + Math.round(s * 1000)).toISOString()
  const random = seededRandom(4)
  /** A machine that switches at odd moments between idling and pressing. */
  const edges: number[] = []
  for (let at = 5; at < 900; at += 4 + 20 * random()) edges.push(at)
  const isOn = (s: number): boolean => edges.filter((edge) => edge <= s).length % 2 === 1
  const pressures = (fromS = 0, toS = 900) =>
    readText(
      `Time,Pump pressure [bar]\n${Array.from({ length: (toS - fromS) * 5 }, (_, i) => fromS + i / 5)
        .map((s) => `${stamp(s)},${(isOn(s) ? 150 : 20) + (i5(s) % 3)}`)
        .join('\n')}\n`,
      { fileName: `pressure-${fromS}.csv`, isPart: true },
    )
  const i5 = (s: number): number => Math.round(s * 5)
  const currents = (behindS: number) =>
    readText(
      `Time,Motor current [A]\n${Array.from({ length: 900 }, (_, s) => `${stamp(s - behindS)},${(isOn(s) ? 38 : 17) + (s % 2)}`).join('\n')}\n`,
      { fileName: 'current.csv', isPart: true },
    )
  /** Rows whose current is not that of their pressure. */
  const wrong = ({ trace }: ReturnType<typeof joinLogs>): number => {
    const [pressure, current] = traceInFull(trace).channels.map(({ values }) => values)
    return current.reduce(
      (sum, value, i) => sum + (!Number.isNaN(value) && value > 30 !== pressure[i] > 100e5 ? 1 : 0),
      0,
    )
  }
  const codeOf = (log: ReturnType<typeof joinLogs>, code: string) =>
    log.report.problems.find((known) => known.code === code)

  it('become one record of one clock, and that is said as assumed', async () => {
    const joined = joinLogs([await pressures(), await currents(7.3)])
    const problem = codeOf(joined, 'assumed-clock-shift')
    expect(problem?.values).toMatchObject({ file: 'current.csv' })
    expect(Math.abs(Number(problem?.values.shiftS) - 7.3)).toBeLessThan(0.5)
    expect(wrong(joined)).toBeLessThan(joined.trace.timeS.length * 0.01)
    expect(joined.trace.startedAtMs).toBe(START_MS)
  })
  it('keep the first one’s clock, whichever comes first', async () => {
    const joined = joinLogs([await currents(7.3), await pressures()])
    expect(Math.abs((joined.trace.startedAtMs ?? 0) - (START_MS - 7300))).toBeLessThan(500)
    expect(wrong(joined)).toBeLessThan(joined.trace.timeS.length * 0.01)
  })
  it('stand as stamped where a person says so, or as far off as a person says', async () => {
    const asStamped = joinLogs([await pressures(), await currents(7.3)], [null, 0])
    expect(codeOf(asStamped, 'assumed-clock-shift')).toBeUndefined()
    expect(codeOf(asStamped, 'clock-shifted')).toBeUndefined()
    expect(wrong(asStamped)).toBeGreaterThan(asStamped.trace.timeS.length * 0.1)
    const shifted = joinLogs([await pressures(), await currents(7.3)], [null, 7])
    expect(Number(codeOf(shifted, 'clock-shifted')?.values.shiftS)).toBeCloseTo(7.3, 0)
    expect(wrong(shifted)).toBeLessThan(shifted.trace.timeS.length * 0.01)
  })
  it('say nothing of clocks that agree', async () => {
    const joined = joinLogs([await pressures(), await currents(0)])
    const codes = joined.report.problems.map(({ code }) => code)
    expect(codes).toEqual(['slower-channel'])
    expect(wrong(joined)).toBeLessThan(joined.trace.timeS.length * 0.01)
  })
  it('may come in several pieces each', async () => {
    const pieces = [await currents(7.3), await pressures(450, 900), await pressures(0, 450)]
    const joined = joinLogs(pieces)
    expect(joined.trace.timeS).toHaveLength(4500)
    expect(joined.trace.gaps).toEqual([])
    expect(joined.report).toMatchObject({ rowsRead: 5400, rowsUsed: 5400, rowsRejected: 0 })
    expect(wrong(joined)).toBeLessThan(45)
  })
  it('are compared one by one where there are three, and each is told', async () => {
    const stands = await readText(
      `Time,Oil temperature [°C],Motor power [kW]\n${Array.from({ length: 900 }, (_, s) => `${stamp(s + 11)},45,${(isOn(s) ? 20 : 5) + (s % 2) / 10}`).join('\n')}\n`,
      { fileName: 'power.csv', isPart: true },
    )
    const joined = joinLogs([await pressures(), await currents(7.3), stands])
    const shifts = joined.report.problems.filter(({ code }) => code === 'assumed-clock-shift')
    expect(shifts.map(({ values, count }) => [values.file, count])).toEqual([
      ['current.csv', 1],
      ['power.csv', 1],
    ])
    expect(Math.abs(Number(shifts[0].values.shiftS) - 7.3)).toBeLessThan(0.6)
    expect(Math.abs(Number(shifts[1].values.shiftS) + 11)).toBeLessThan(0.6)
    const asked = joinLogs([await pressures(), await currents(7.3), stands], [null, 7, -11])
    expect(
      asked.report.problems.filter(({ code }) => code === 'clock-shifted').map(({ values }) => values.file),
    ).toEqual(['current.csv', 'power.csv'])
  })
  it('say what lies outside of the quicker one’s time', async () => {
    const joined = joinLogs([await pressures(100, 800), await currents(0)])
    expect(codeOf(joined, 'rows-outside-other-logger')?.count).toBe(198)
  })
})
