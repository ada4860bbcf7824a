import { describe, expect, it } from 'vitest'
import { TankwardError } from '@/lib/errors'
import { inFull } from '@/lib/samples/samples'
import { readSensors, type Sensor } from '@/lib/samples/sensors'
import { timeline } from '@/lib/samples/timeline'
import type { FullChannel, FullTrace } from '@/lib/samples/trace'

const BAR = 100_000
const NO = Number.NaN

function channel(
  column: string,
  quantity: FullChannel['quantity'],
  location: FullChannel['location'],
  unit: FullChannel['unit'],
  values: readonly number[],
  accuracy: FullChannel['accuracy'] = null,
): FullChannel {
  return { column, quantity, location, unit, accuracy, values: Float64Array.from(values) }
}
const pressure = channel('P1', 'pressure', 'pump-outlet', 'bar', [100 * BAR, 160 * BAR, 5 * BAR])

function traceOf(...channels: FullChannel[]): FullTrace {
  const timeS = Float64Array.from(channels[0].values, (_, i) => i)
  return { timeS, ...timeline(timeS), channels, startedAtMs: null }
}

/** A sensor's readings one by one; none where it is not fitted. */
const readings = (sensor: Sensor | null) => (sensor ? inFull(sensor.values) : new Float64Array(0))

describe('sensors by what they mean', () => {
  it('sorts by quantity and place, and leaves unfitted ones out', () => {
    const sensors = readSensors(
      traceOf(
        channel('Q', 'flow', 'system-line', 'L/min', [1, 2, 3]),
        pressure,
        channel('R', 'flow', 'relief-return', 'L/min', [4, 5, 6]),
        channel('D', 'flow', 'case-drain', 'L/min', [9, 9, 9]),
        channel('T', 'temperature', 'oil', '°C', [40, 41, 42]),
        channel('S', 'signal', 'cycle-active', '1', [0, 1, 1]),
        channel('Y1', 'signal', 'solenoid', '1', [0, 1, 0]),
        channel('Y2', 'signal', 'solenoid', '1', [0, 0, 1]),
        channel('Y3', 'signal', 'solenoid', '1', [1, 1, 1]),
        channel('T1', 'pressure', 'tank-line', 'bar', [2 * BAR, 2 * BAR, 1 * BAR]),
      ),
    )
    expect(sensors.caseDrain?.column).toBe('D')
    expect(sensors.tankPressure?.column).toBe('T1')
    expect([...readings(sensors.solenoid)]).toEqual([0, 1, 1])
    expect(sensors.pumpPressure.column).toBe('P1')
    expect(sensors.systemFlow?.column).toBe('Q')
    expect(sensors.returnFlow?.column).toBe('R')
    expect([...readings(sensors.cycleActive)]).toEqual([0, 1, 1])
    expect(sensors.pumpFlow).toBeNull()
    expect(sensors.loadPressure).toBeNull()
    expect(sensors.power).toBeNull()
    expect(sensors.count).toBe(3)
  })

  it('of several load pressures the highest is what the supply must reach (domain rule)', () => {
    const sensors = readSensors(
      traceOf(
        pressure,
        channel('A', 'pressure', 'load', 'bar', [10 * BAR, 90 * BAR, NO]),
        channel('B', 'pressure', 'load', 'bar', [70 * BAR, 20 * BAR, 30 * BAR]),
      ),
    )
    expect([...readings(sensors.loadPressure)]).toEqual([70 * BAR, 90 * BAR, 90 * BAR])
    const apart = readSensors(
      traceOf(
        channel('P1', 'pressure', 'pump-outlet', 'bar', Array(12).fill(100 * BAR)),
        channel('A', 'pressure', 'load', 'bar', Array(12).fill(NO)),
        channel('B', 'pressure', 'load', 'bar', Array(12).fill(30 * BAR)),
      ),
    )
    expect(readings(apart.loadPressure)[6]).toBe(30 * BAR)
  })

  it('a power factor without a voltage is read at the rated voltage, which widens the limit', () => {
    const amps = channel('I', 'current', 'motor-supply', 'A', [37, 37, 37], { percentOfReading: 1 })
    const cosine = channel('PF', 'power-factor', 'motor-supply', '1', [0.763, 0.763, 0.763])
    const watts = Math.sqrt(3) * 460 * 37 * 0.763
    const { power } = readSensors(traceOf(pressure, amps, cosine), Number.POSITIVE_INFINITY, 460)
    expect(readings(power)[0]).toBeCloseTo(watts, 6)
    expect(power?.limit).toBeGreaterThan(0.03 * watts)
    expect(readSensors(traceOf(pressure, amps, cosine)).power).toBeNull()
  })

  it('a voltage far below the rated one is an open contactor’s and no supply of a running motor', () => {
    const volts = channel('U', 'voltage', 'motor-supply', 'V', [398, 2, 402])
    const { voltage } = readSensors(traceOf(pressure, volts), Number.POSITIVE_INFINITY, 400)
    expect([...readings(voltage)]).toEqual([398, NO, 402])
  })

  it('current with voltage and power factor is power: 469.7 V, 37 A, PF .763 → 22.967 kW (US DOE)', () => {
    const amps = channel('I', 'current', 'motor-supply', 'A', [37, 37, 0])
    const volts = channel('U', 'voltage', 'motor-supply', 'V', [469.7, 469.7, 469.7])
    const cosine = channel('cos', 'power-factor', 'motor-supply', '1', [0.763, 0.763, 0.763])
    const sensors = readSensors(traceOf(pressure, amps, volts, cosine))
    expect(readings(sensors.power)[0]).toBeCloseTo(22_967, -1)
    expect(readings(sensors.power)[2]).toBe(0)
    expect(readSensors(traceOf(pressure, amps, volts)).power).toBeNull()
  })

  it('measured power outranks them', () => {
    const sensors = readSensors(
      traceOf(
        pressure,
        channel('I', 'current', 'motor-supply', 'A', [37, 37, 37]),
        channel('U', 'voltage', 'motor-supply', 'V', [470, 470, 470]),
        channel('cos', 'power-factor', 'motor-supply', '1', [0.7, 0.7, 0.7]),
        channel('W', 'power', 'motor-supply', 'kW', [20_000, 20_000, 20_000]),
      ),
    )
    expect(sensors.power?.column).toBe('W')
    expect(readings(sensors.power)[0]).toBe(20_000)
  })

  it('without a pump pressure there is no account, and what was found is said', () => {
    const flow = channel('Q', 'flow', 'system-line', 'L/min', [1, 2, 3])
    let caught: unknown
    try {
      readSensors(traceOf(flow))
    } catch (error) {
      caught = error
    }
    expect(caught).toBeInstanceOf(TankwardError)
    expect((caught as TankwardError).code).toBe('needs-pump-pressure')
    expect((caught as TankwardError).values.found).toContain('Q')
  })
})

describe('95 % limit of a sensor’s offset (contract)', () => {
  const limit = (accuracy: FullChannel['accuracy'], unit: FullChannel['unit'] = 'bar') =>
    readSensors(traceOf({ ...pressure, accuracy, unit })).pumpPressure.limit

  it('per cent of full scale, in the unit it was given in', () => {
    expect(limit({ percentOfFullScale: 0.5, fullScale: 250 })).toBeCloseTo(1.25 * BAR, 6)
    expect(limit({ percentOfFullScale: 0.5, fullScale: 3000 }, 'psi')).toBeCloseTo(15 * 6894.757293168, 6)
  })
  it('per cent of reading, taken at the largest', () => {
    expect(limit({ percentOfReading: 2 })).toBeCloseTo(3.2 * BAR, 6)
  })
  it('by default 1 % of the largest reading', () => {
    expect(limit(null)).toBeCloseTo(1.6 * BAR, 6)
  })
  it('of power from current, voltage and power factor is a power: the current’s limit at √3·V', () => {
    const sensors = readSensors(
      traceOf(
        pressure,
        channel('I', 'current', 'motor-supply', 'A', [37, 37, 0], { percentOfFullScale: 1, fullScale: 50 }),
        channel('U', 'voltage', 'motor-supply', 'V', [NO, 470, 470]),
        channel('cos', 'power-factor', 'motor-supply', '1', [0.76, 0.76, 0.76]),
      ),
    )
    // At most all of 0.5 A · √3 · 470 V; at least its share at a power factor of one half.
    const full = 0.5 * Math.sqrt(3) * 470
    expect(sensors.power?.limit).toBeLessThanOrEqual(full * 1.05)
    expect(sensors.power?.limit).toBeGreaterThan(full / 2)
  })
})

describe('readings of a long log', () => {
  const COUNT = 3000
  const swing = (i: number) => (i % 60 < 30 ? 10 : 90) * BAR
  const logged = (change: (values: number[]) => void): FullTrace => {
    const values = Array.from({ length: COUNT }, (_, i) => swing(i) + 0.2 * BAR * Math.sin(i * i))
    change(values)
    return traceOf(channel('P1', 'pressure', 'pump-outlet', 'bar', values))
  }
  it('are the trace’s own where none is missing or taken out', () => {
    const trace = logged(() => {})
    expect(readSensors(trace).pumpPressure.values).toBe(trace.channels[0].values)
  })
  it.each([
    ['a cell is missing', [NO, 745, 746], []],
    ['a reading is above what the machine can reach', [900 * BAR, 745, 746], []],
    ['a sample leaps', [300 * BAR, 745, 746], ['sensor-spike']],
    ['a sensor was stuck', [30 * BAR, 1000, 1400], ['sensor-stuck']],
  ] as const)('are a copy where %s: the trace stays as it was logged', (_, [odd, from, to], codes) => {
    const trace = logged((values) => void values.fill(odd, from, to))
    const beside = channel(
      'I',
      'current',
      'motor-supply',
      'A',
      Array.from({ length: COUNT }, (_, i) => (i % 60 < 30 ? 20 : 60) + Math.cos(i * i)),
    )
    const flow = { ...beside, column: 'Q', quantity: 'flow' as const, location: 'system-line' as const }
    const both: FullTrace = { ...trace, channels: [...trace.channels, beside, flow] }
    const before = both.channels.map(({ values }) => values.slice())
    const { pumpPressure, faults } = readSensors(both, 500 * BAR)
    expect(pumpPressure.values).not.toBe(both.channels[0].values)
    expect(pumpPressure.values).not.toEqual(before[0])
    expect(faults.map(({ code }) => code)).toEqual(codes)
    expect(both.channels.map(({ values }) => values)).toEqual(before)
  })
})
