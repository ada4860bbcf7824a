import { describe, expect, it } from 'vitest'
import { type Habit, writeCsv } from '@/app/_plant/habits'
import { machineFile } from '@/app/_plant/machine-file'
import { randomMachine, type SensorCase } from '@/app/_plant/random-machine'
import { simulate } from '@/app/_plant/simulate'
import { ratedPowerKW } from '@/lib/contract/arrangement'
import type { Location, Quantity } from '@/lib/contract/machine'
import type { Problem } from '@/lib/contract/result'
import { severalMachine } from '../../truth/several-machines'
import { readText, valuesOf } from './log-text'

// Machines of the plant simulator, which shares no code with the analysis: sound logs raise no alarm, and a log with one
// channel off by a factor that has a cause (a unit, a delta's leg, a transformer) raises one that names channel and factor.

const CODES = ['implausible-range', 'current-off-power', 'load-off-pressure', 'pressure-below-load']
const MACHINES = Array.from({ length: 6 }, (_, i) => ({
  seed: 5100 + i,
  sensors: (['a', 'b', 'c'] as const)[i % 3],
}))
const HABIT: Habit = 'comma-iso'

const logs = new Map<number, ReturnType<typeof simulated>>()

function logOf(seed: number, sensors: SensorCase) {
  const log = logs.get(seed) ?? simulated(seed, sensors)
  logs.set(seed, log)
  return log
}

function simulated(seed: number, sensors: SensorCase) {
  const spec = randomMachine(seed, sensors)
  const { recording } = simulate(spec, { seed, durationS: 240, rateHz: 5, fineHz: 50 })
  return { machine: machineFile(spec), text: writeCsv(recording, HABIT, '2026-08-17T06:00:00') }
}

const alarms = (problems: readonly Problem[]) => problems.filter(({ code }) => CODES.includes(code))

/** The text with one column's numbers times a factor. */
function multiplied(text: string, column: string, factor: number): string {
  const lines = text.split('\n')
  const head = lines.findIndex((line) => line.split(',').includes(column))
  const at = lines[head].split(',').indexOf(column)
  return lines
    .map((line, i) => {
      const cells = line.split(',')
      if (i <= head || !cells[at]) return line
      return cells.with(at, (Number(cells[at]) * factor).toPrecision(6)).join(',')
    })
    .join('\n')
}

describe('sound logs', () => {
  it.each(MACHINES)('of machine $seed raise no alarm', async ({ seed, sensors }) => {
    const { machine, text } = logOf(seed, sensors)
    expect(alarms((await readText(text, { machine })).report.problems)).toEqual([])
  })
  it.each(['high-low', 'pilot pump', 'two sets', 'auxiliaries'] as const)(
    'of %s raise no alarm',
    async (kind) => {
      const spec = severalMachine(kind, 204, 'c')
      const { recording } = simulate(spec, { seed: 4, durationS: 240, rateHz: 5, fineHz: 50 })
      const log = await readText(writeCsv(recording, HABIT, '2026-08-17T06:00:00'), {
        machine: machineFile(spec),
      })
      expect(alarms(log.report.problems)).toEqual([])
    },
  )
})

interface Wrong {
  readonly what: string
  readonly quantity: Quantity
  readonly location: Location
  readonly factor: number
  /** What the report must offer as cause, where it can tell. */
  readonly cause?: Readonly<Record<string, string>>
}

const current = { quantity: 'current', location: 'motor-supply' } as const
const power = { quantity: 'power', location: 'motor-supply' } as const
const pressure = { quantity: 'pressure', location: 'pump-outlet' } as const
const flow = { quantity: 'flow', location: 'pump-outlet' } as const
// 1 MPa = 10 bar = 1000 kPa, 1 bar = 14.5038 psi, 1 gal = 3.78541 L, 1 m³/h = 16.667 L/min (exact or of the units' definitions).
const WRONG: readonly Wrong[] = [
  { what: 'current of a leg inside a delta', ...current, factor: 1 / Math.sqrt(3), cause: { ratio: '√3' } },
  { what: 'current of the line taken for a leg', ...current, factor: Math.sqrt(3) },
  { what: 'one of two parallel conductors', ...current, factor: 1 / 2, cause: { ratio: '2' } },
  { what: 'conductor twice through the clamp', ...current, factor: 2 },
  { what: 'clamp on the wrong range', ...current, factor: 1 / 10 },
  { what: 'clamp on the wrong range, the other way', ...current, factor: 10 },
  {
    what: 'power of one phase by another formula',
    ...power,
    factor: 1 / Math.sqrt(3),
    cause: { ratio: '√3' },
  },
  { what: 'MW under kW', ...power, factor: 1 / 1000, cause: { ratio: '1000' } },
  { what: 'MPa under bar', ...pressure, factor: 1 / 10, cause: { likely: 'MPa' } },
  { what: 'psi under bar', ...pressure, factor: 14.5038, cause: { likely: 'psi' } },
  { what: 'kPa under bar', ...pressure, factor: 100, cause: { likely: 'kPa' } },
  { what: 'a range of 400 under one of 250 bar', ...pressure, factor: 400 / 250 },
  { what: 'gallons under litres', ...flow, factor: 1 / 3.78541, cause: { likely: 'gpm' } },
  { what: 'm³/h under L/min', ...flow, factor: 1 / 16.667, cause: { likely: 'm³/h' } },
  { what: 'pulses counted twice', ...flow, factor: 2 },
]

describe('a channel that is off by a factor is named, and its readings stay', () => {
  it.each(WRONG)('$what', async ({ quantity, location, factor, cause = {} }) => {
    let judged = 0
    for (const { seed, sensors } of MACHINES) {
      const { machine, text } = logOf(seed, sensors)
      const channel = machine.channels?.find((one) => one.quantity === quantity && one.location === location)
      if (!channel) continue
      judged++
      const log = await readText(multiplied(text, channel.column, factor), { machine })
      expect(alarms(log.report.problems), `machine ${seed}`).toMatchObject([
        { column: channel.column, values: cause },
      ])
      const sound = valuesOf(await readText(text, { machine }), channel.column)
      const off = valuesOf(log, channel.column)
      expect(Math.max(...off) / Math.max(...sound)).toBeCloseTo(factor, factor > 1 ? 3 : 5)
    }
    expect(judged).toBeGreaterThan(1)
  })
})

describe('power and current of one motor', () => {
  const { machine } = logOf(5102, 'c')
  const pf = 0.85
  const read = (ratio: number) => {
    const kW = ratedPowerKW(machine)
    const amps = (1000 * kW * ratio) / (Math.sqrt(3) * machine.motor.ratedVoltageV * pf)
    const rows = Array.from(
      { length: 60 },
      (_, i) => `2026-03-22 06:00:${String(i).padStart(2, '0')};20;${kW};${amps}`,
    )
    return readText(['Time;Pump pressure [bar];Motor power [kW];Motor current [A]', ...rows].join('\n'), {
      machine: { ...machine, channels: undefined, pump: { ...machine.pump, kind: 'load-sensing' } },
    })
  }
  it('agree by U·I·√3·cos φ', async () => {
    expect(alarms((await read(1)).report.problems)).toEqual([])
  })
  it.each([
    [1 / Math.sqrt(3), '√3'],
    [1 / 2, '2'],
  ])('contradict each other at %f of it', async (ratio, name) => {
    expect(alarms((await read(ratio)).report.problems)).toMatchObject([
      {
        code: 'current-off-power',
        column: 'Motor current [A]',
        values: { ratio: name, beside: 'Motor power [kW]' },
      },
    ])
  })
})
