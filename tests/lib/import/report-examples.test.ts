import { describe, expect, it } from 'vitest'
import type { Machine } from '@/lib/contract/machine'
import { joinLogs } from '@/lib/import/join-logs'
import { MACHINE, problem, readText } from './log-text'

const HEAD = 'Time,Pump pressure [bar],Line flow [L/min],Motor current [A]'
const stamp = (s: number): string => new Date(Date.UTC(2026, 2, 2, 6) + s * 1000).toISOString()
/** Line 2 is the first row. */
const lines = (count: number, of: (s: number) => string | null = () => null, from = 0): string =>
  `${HEAD}\n${Array.from({ length: count }, (_, s) => of(s) ?? `${stamp(from + s)},${100 + (s % 7)},50.25,${20 + (s % 3)}`).join('\n')}\n`

describe('examples in a report', () => {
  it('are the first five of each reason, with line and cell', async () => {
    const log = await readText(
      lines(60, (s) => {
        if (s >= 10 && s < 18) return `pause ${s},100,50,20`
        if (s === 30) return `${stamp(s)},-,,`
        return s >= 40 && s < 42 ? `${stamp(s)},loose ${s},50.25,20` : null
      }),
    )
    expect(problem(log, 'row-rejected-time')).toMatchObject({ count: 8, line: 12 })
    expect(problem(log, 'row-rejected-time')?.examples).toEqual(
      [10, 11, 12, 13, 14].map((s) => ({ line: s + 2, cell: `pause ${s}` })),
    )
    expect(problem(log, 'row-rejected-empty')?.examples).toEqual([{ line: 32, cell: '- |  | ' }])
    expect(problem(log, 'unreadable-cell', 'Pump pressure [bar]')?.examples).toEqual([
      { line: 32, cell: '-' },
      { line: 42, cell: 'loose 40' },
      { line: 43, cell: 'loose 41' },
    ])
    expect(problem(log, 'unreadable-cell', 'Line flow [L/min]')?.examples).toEqual([{ line: 32, cell: null }])
  })
  it('of several files stay the first five', async () => {
    const broken = (from: number) =>
      readText(lines(20, (s) => (s > 5 && s < 10 ? `${stamp(from + s)},x,50,20` : null), from))
    const joined = joinLogs([await broken(0), await broken(20)])
    const cells = problem(joined, 'unreadable-cell', 'Pump pressure [bar]')
    expect(cells).toMatchObject({ count: 8, examples: Array(5).fill({ cell: 'x' }) })
  })
})

it('the evidence of a sensor goes with the channel that it was declared for', async () => {
  const evidence = { serialNumber: 'P-4711', certificateDate: '2026-01-31', zeroReading: -0.12 }
  const channels: Machine['channels'] = [
    { column: 'Pump pressure [bar]', quantity: 'pressure', location: 'pump-outlet', evidence },
    { column: 'Motor current [A]', quantity: 'current' },
  ]
  const { report } = await readText(lines(30), { machine: { ...MACHINE, channels } })
  expect(report.channels[0].evidence).toEqual(evidence)
  expect(report.channels[1].evidence).toBeUndefined()
})
