import { describe, expect, it } from 'vitest'
import { toSi } from '@/lib/units'
import { problem, readText, startOf, valuesOf } from './log-text'

const HEAD = 'Time,Pump pressure [bar],Line flow [L/min],Motor current [A]'
const stamp = (s: number): string => new Date(Date.UTC(2026, 2, 2, 6) + s * 1000).toISOString().slice(0, 23)
const row = (s: number): string => `${stamp(s)},${100 + (s % 7)}.5,${50 + (s % 5)}.25,${20 + (s % 3)}.125`
const rows = Array.from({ length: 60 }, (_, s) => row(s))
const file = (...lines: readonly (string | readonly string[])[]): string => `${lines.flat().join('\n')}\n`
const whole = { rowsRead: 60, rowsUsed: 60, rowsRejected: 0 }
const swap = (at: number, line: string): string[] => rows.map((old, i) => (i === at ? line : old))

describe('numbers above the header are no rows', () => {
  it.each([
    ['calibration points', ['Cal,1.5,2.5,3.5', 'Cal,1.6,2.6,3.6', 'Zero,0.1,0.2,0.3']],
    ['dated calibration points', ['2025-01-01,0.01,0.02,0.03', '2025-06-01,0.01,0.02,0.03', '']],
    ['channel numbers', ['Time,1,2,3']],
  ])('%s', async (_, above) => {
    const log = await readText(file(above, HEAD, rows))
    expect(log.report).toMatchObject({ ...whole, problems: [] })
    expect(log.report.dialect.headerLine).toBe(above.length + 1)
    expect(startOf(log)).toBe('2026-03-02T06:00:00.000Z')
  })
  it('a first row wider than most is a row', async () => {
    const remarked = rows.map((line, i) => (i % 20 === 0 ? `${line},start` : line))
    const log = await readText(file(`${HEAD},Remark`, remarked))
    expect(log.report).toMatchObject({ ...whole, problems: [] })
  })
})

describe('a row that lost or gained separators is not read', () => {
  it.each([
    ['two cells run together', '2026-03-02T06:00:30.000,102.550.25,20.125', 3],
    ['a cell lost', '2026-03-02T06:00:30.000,50.25,20.125', 3],
    ['cut short', '2026-03-02T06:00:30.000,10', 2],
    ['run into the next', '2026-03-02T06:00:30.000,102026-03-02T06:00:30.500,1,50.25,20', 5],
  ])('%s', async (_, line, actual) => {
    const log = await readText(file(HEAD, swap(30, line)))
    expect(log.report).toMatchObject({ rowsRead: 60, rowsUsed: 59, rowsRejected: 1 })
    expect(log.report.problems).toEqual([
      {
        code: 'row-rejected-columns',
        line: 32,
        column: null,
        count: 1,
        values: { actual, expected: 4 },
        examples: [{ line: 32, cell: line.slice(0, 60) }],
      },
    ])
  })
  it('a logger that leaves out empty cells at the end keeps its rows', async () => {
    const ragged = rows.map((line, i) => (i % 4 === 0 ? line : line.slice(0, line.lastIndexOf(','))))
    expect((await readText(file(HEAD, ragged))).report).toMatchObject(whole)
  })
  it('a last number cut off by the end of the file is not read', async () => {
    const log = await readText(`${HEAD}\n${rows.join('\n').slice(0, -1)}`)
    expect(valuesOf(log, 'Motor current [A]')[59]).toBeNaN()
    expect(problem(log, 'unreadable-cell', 'Motor current [A]')).toMatchObject({ line: 61, count: 1 })
    const sound = await readText(`${HEAD}\n${rows.join('\n')}`)
    expect(sound.report.problems).toEqual([])
  })
})

describe('remarks over several lines', () => {
  const remark = '"press stopped; ""A""\nchecked, restarted"'
  it('belong to their row', async () => {
    const lines = rows.map((line, i) => `${line},${i === 5 || i === 40 ? remark : ''}`)
    const log = await readText(file(`${HEAD},Remark`, lines), { chunk: 50 })
    expect(log.report).toMatchObject({ ...whole, problems: [] })
    expect(valuesOf(log, 'Motor current [A]')[6]).toBe(20.125)
  })
  it('a mark never closed swallows no row', async () => {
    const lines = rows.map((line, i) => `${line},${i === 5 ? '"oops' : i === 50 ? 'and "again' : ''}`)
    expect((await readText(file(`${HEAD},Remark`, lines))).report).toMatchObject(whole)
  })
})

describe('what stands between and after the rows', () => {
  it('padding at the end of the file is no row', async () => {
    for (const end of ['\0'.repeat(512), '\u001a']) {
      expect((await readText(file(HEAD, rows) + end)).report).toMatchObject({ ...whole, problems: [] })
    }
  })
  it('a restart with its whole preamble is one repeated header', async () => {
    const top = ['Logger,x', 'Start,2026-03-02', '']
    const log = await readText(file(top, HEAD, rows.slice(0, 30), top, HEAD, rows.slice(30)))
    expect(log.report).toMatchObject(whole)
    expect(problem(log, 'repeated-header')).toMatchObject({ line: 38, count: 1 })
  })
})

it('reads the decimal mark of numbers with their unit behind them', async () => {
  const lines = rows.map((_, s) => `${stamp(s)};${100 + s}.125 bar;5${s % 10}.250 L/min;2${s % 10}.500 A`)
  const log = await readText(file('Time;Pump pressure;Line flow;Motor current', lines))
  expect(valuesOf(log, 'Pump pressure')[1]).toBe(toSi(101.125, 'bar'))
  const comma = await readText(
    file('Time;Pump pressure;Line flow;Motor current', lines)
      .replace(/(\d)\.(\d+) (?=[bLA])/g, '$1,$2 ')
      .replace(',250 L', ',25 L'),
  )
  expect(valuesOf(comma, 'Pump pressure')[1]).toBe(toSi(101.125, 'bar'))
})

it.each([-999.9, 6553.5, 3276.7, -3276.8, 1e38, 9.9e37, 3.402823e38])(
  'takes %f for "no value"',
  async (mark) => {
    const lines = swap(30, `${stamp(30)},${mark},50.25,20.125`)
    const log = await readText(file(HEAD, lines))
    expect(valuesOf(log, 'Pump pressure [bar]')[30]).toBeNaN()
    expect(problem(log, 'unreadable-cell')).toMatchObject({ line: 32, count: 1 })
  },
)
