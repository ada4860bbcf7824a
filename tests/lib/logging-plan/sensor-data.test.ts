import { describe, expect, it } from 'vitest'
import { samplingRate } from '@/lib/logging-plan/sampling-rate'
import { sensorDataOf, usualRange } from '@/lib/logging-plan/sensor-data'
import { inOrder, STATION_IDS, stationsOf } from '@/lib/logging-plan/stations'
import { HAND_MACHINE } from '../../laws/hand-machine'

describe('ranges of the hand-worked machine', () => {
  // Relief 160 bar; 60 cm³ at 1500 rpm displace 90 L/min and leak 4.5 L/min at 160 bar; 53.92 A; 30 kW / 0.923.
  it.each([
    ['pressure:pump-outlet', 240, 250, 'bar'],
    ['pressure:load', 240, 250, 'bar'],
    ['flow:system-line', 112.5, 150, 'L/min'],
    ['flow:case-drain', 18, 20, 'L/min'],
    ['current:motor-supply', 107.84, 150, 'A'],
    ['power:motor-supply', 52, 60, 'kW'],
    ['voltage:motor-supply', 500, 500, 'V'],
    ['speed:motor-shaft', 1800, 2000, 'rpm'],
  ] as const)('%s: at least %f, so %f %s', (id, least, usual, unit) => {
    const { range } = sensorDataOf(id, HAND_MACHINE)
    expect(range?.least).toBeCloseTo(least, 1)
    expect(range).toMatchObject({ usual, unit })
  })
  it('a clamp stays whole at eight times rated current', () => {
    expect(sensorDataOf('current:motor-supply', HAND_MACHINE).overload?.value).toBeCloseTo(8 * 53.92, 6)
  })
  it('says where a number is not on the plate', () => {
    const { ratedCurrentA: _, ...motor } = HAND_MACHINE.motor
    const { range } = sensorDataOf('current:motor-supply', { ...HAND_MACHINE, motor })
    // 30 kW / (√3 · 400 V · 0.87 · 0.923) = 53.92 A.
    expect(range?.input.stated).toBe(false)
    expect(range?.input.value).toBeCloseTo(53.92, 1)
  })
  it('takes the accuracy that the set-up declares for the sensor in use', () => {
    const accuracy = { percentOfFullScale: 0.25, fullScale: 400 }
    const machine = {
      ...HAND_MACHINE,
      channels: [
        {
          column: 'p',
          quantity: 'pressure' as const,
          location: 'pump-outlet' as const,
          unit: 'bar' as const,
          accuracy,
        },
      ],
    }
    expect(sensorDataOf('pressure:pump-outlet', machine)).toMatchObject({ accuracy, accuracyDeclared: true })
    expect(sensorDataOf('pressure:load', machine).accuracyDeclared).toBe(false)
  })
  it('two pumps on a line need twice the range', () => {
    const { pump } = HAND_MACHINE
    const { kind: _, ...rating } = pump
    const pair = { ...HAND_MACHINE, furtherPumps: [{ ...rating, outlet: 'common' as const }] }
    expect(sensorDataOf('flow:system-line', pair).range?.least).toBeCloseTo(225, 6)
  })
})

describe('usual ranges', () => {
  it.each([
    [240, 250],
    [250, 250],
    [250.1, 400],
    [9, 10],
    [1, 1],
  ])('%f becomes %f', (least, usual) => {
    expect(usualRange(least, [1, 1.6, 2.5, 4, 6, 10])).toBe(usual)
  })
})

describe('sampling rate', () => {
  it.each([
    [10, 1],
    [2, 5],
    [1, 10],
    [0.3, 50],
    [0.01, 100],
  ])('a phase of %f s needs %i Hz', (seconds, rateHz) => {
    expect(samplingRate(seconds).rateHz).toBe(rateHz)
  })
})

describe('stations of channels', () => {
  it('are in the order of a walk, each once', () => {
    expect(
      stationsOf([
        { quantity: 'current', location: 'motor-supply' },
        { quantity: 'temperature', location: 'oil' },
        { quantity: 'pressure', location: 'load' },
        { quantity: 'pressure', location: 'load' },
        { quantity: 'pressure', location: 'pump-outlet' },
        { quantity: 'speed' },
      ]),
    ).toEqual(['pressure:pump-outlet', 'pressure:load', 'current:motor-supply', 'speed:motor-shaft'])
  })
  it('current with a power factor is power', () => {
    expect(stationsOf([{ quantity: 'current' }, { quantity: 'power-factor' }])).toEqual([
      'power:motor-supply',
      'current:motor-supply',
    ])
  })
  it('keep their order', () => {
    expect(inOrder([...STATION_IDS].reverse())).toEqual([...STATION_IDS])
  })
})
