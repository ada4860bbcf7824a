import { describe, expect, it } from 'vitest'
import { joinLogs } from '@/lib/import/join-logs'
import { inFull } from '@/lib/samples/samples'
import { problem, readText, startOf, valuesOf } from './log-text'

const stamp = (s: number): string => new Date(Date.UTC(2026, 2, 2, 6) + s * 1000).toISOString()
const cut = (
  from: number,
  to: number,
  columns = 'Pump pressure [bar],Motor current [A]',
  value = (s: number) => `${100 + (s % 7)},${20 + (s % 3)}`,
) => {
  const rows = Array.from({ length: to - from }, (_, i) => `${stamp(from + i)},${value(from + i)}`)
  return readText(`Time,${columns}\n${rows.join('\n')}\n`, { fileName: `${from}.csv` })
}

describe('files of one recording', () => {
  it('in any order are the recording itself', async () => {
    const whole = await cut(0, 100)
    const parts = await Promise.all([cut(60, 100), cut(0, 25), cut(25, 60)])
    const joined = joinLogs(parts)
    expect(joined.trace).toEqual(whole.trace)
    expect(joined.report).toMatchObject({ rowsRead: 100, rowsUsed: 100, rowsRejected: 0, problems: [] })
  })
  it('keep the gap between them', async () => {
    const joined = joinLogs([await cut(0, 10), await cut(100, 110)])
    expect(joined.trace.gaps).toEqual([{ startS: 10, endS: 100 }])
    expect(startOf(joined)).toBe('2026-03-02T06:00:00.000Z')
  })
  it('use shared rows once', async () => {
    const joined = joinLogs([await cut(0, 60), await cut(50, 100)])
    expect(joined.trace).toEqual((await cut(0, 100)).trace)
    expect(joined.report).toMatchObject({ rowsRead: 110, rowsUsed: 100, rowsRejected: 10 })
    expect(problem(joined, 'overlapping-rows')).toMatchObject({ count: 10 })
  })
  it('count a file given twice once', async () => {
    const joined = joinLogs([await cut(0, 60), await cut(0, 60)])
    expect(joined.report).toMatchObject({ rowsRead: 120, rowsUsed: 60, rowsRejected: 60 })
    expect(problem(joined, 'file-repeated')).toBeDefined()
  })
  it('have no value where a file lacks a channel', async () => {
    const joined = joinLogs([
      await cut(0, 10),
      await cut(10, 20, 'Pump pressure [bar]', (s) => String(90 + s)),
    ])
    expect(Array.from(valuesOf(joined, 'Motor current [A]').subarray(9, 12))).toEqual([
      20,
      Number.NaN,
      Number.NaN,
    ])
    expect(problem(joined, 'channel-absent-in-file')).toMatchObject({
      column: 'Motor current [A]',
      values: { rows: 10 },
    })
  })
  it('lay two loggers over the same time side by side', async () => {
    const joined = joinLogs([
      await cut(0, 50, 'Pump pressure [bar]', (s) => String(100 + (s % 7))),
      await cut(5, 60, 'Motor current [A]', (s) => String(20 + (s % 3))),
    ])
    expect(joined.trace.timeS).toHaveLength(50)
    const current = valuesOf(joined, 'Motor current [A]')
    expect(current[4]).toBeNaN()
    expect(current[7]).toBe(21)
    expect(joined.report).toMatchObject({ rowsRead: 105, rowsUsed: 105, rowsRejected: 0 })
  })
  it('without a date follow one another, and say so', async () => {
    const undated = (n: number) =>
      readText(
        `t [s],Pump pressure [bar],Motor current [A]\n${Array.from({ length: n }, (_, i) => `${i},100,${20 + (i % 3)}`).join('\n')}\n`,
      )
    const joined = joinLogs([await undated(10), await undated(10)])
    expect(inFull(joined.trace.timeS)[19]).toBe(19)
    expect(joined.trace.startedAtMs).toBeNull()
    expect(problem(joined, 'assumed-file-order')).toBeDefined()
    const dated = await cut(0, 10)
    const mixed = await undated(10)
    expect(() => joinLogs([dated, mixed])).toThrow(/files-without-date/)
  })
})
