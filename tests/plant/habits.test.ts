import { describe, expect, it } from 'vitest'
import { writeCsv } from '@/app/_plant/habits'
import { makeSensor } from '@/app/_plant/make-sensor'
import type { Recording } from '@/app/_plant/sensors'

const RECORDING: Recording = {
  timeS: Float64Array.of(0, 0.5, 3600.5),
  columns: [
    { sensor: makeSensor('pumpPressurePa', 250), values: Float64Array.of(1.25, Number.NaN, -0.5) },
    { sensor: makeSensor('currentA', 60), values: Float64Array.of(10, 11, 12) },
  ],
}

const lines = (habit: Parameters<typeof writeCsv>[1]) =>
  writeCsv(RECORDING, habit, '2026-08-03T11:59:59').trimEnd().split('\n')

describe('logger habits', () => {
  it('writes commas and ISO times', () => {
    expect(lines('comma-iso')).toEqual([
      'Time,Pump pressure [bar],Motor current [A]',
      '2026-08-03T11:59:59.000,1.25,10.00',
      '2026-08-03T11:59:59.500,,11.00',
      '2026-08-03T12:59:59.500,-0.50,12.00',
    ])
  })

  it('writes semicolons, decimal commas, day first and a preamble', () => {
    const all = lines('semicolon-comma')
    expect(all[2]).toBe('')
    expect(all[3]).toBe('Datum/Uhrzeit;Pump pressure [bar];Motor current [A]')
    expect(all[5]).toBe('03.08.2026 11:59:59,500;---;11,00')
  })

  it('writes tabs and a twelve-hour clock, month first', () => {
    expect(lines('tab-us')[1]).toBe('8/3/2026 11:59:59.000 AM\t1.25\t10.00')
    expect(lines('tab-us')[3]).toBe('8/3/2026 12:59:59.500 PM\t-0.50\t12.00')
  })

  it('splits date and time, and counts seconds', () => {
    expect(lines('split-columns')[2]).toBe('2026-08-03,11:59:59.500,NaN,11.00')
    expect(lines('elapsed-seconds')[3]).toBe('3600.500,-0.50,12.00')
  })
})
