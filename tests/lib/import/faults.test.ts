import { describe, expect, it } from 'vitest'
import { toSi } from '@/lib/units'
import { problem, readText, startOf, valuesOf } from './log-text'

const HEAD = 'Time,Pump pressure [bar],Line flow [L/min],Motor current [A]\n'
const stamp = (s: number): string => new Date(Date.UTC(2026, 2, 2, 6) + s * 1000).toISOString().slice(0, 23)
const row = (s: number, p = 100 + (s % 7), q = 50 + (s % 5), i = 20 + (s % 3)): string =>
  `${stamp(s)},${p},${q},${i}`
const file = (lines: readonly string[]): string => `${HEAD}${lines.join('\n')}\n`
const times = (n: number): number[] => Array.from({ length: n }, (_, i) => i)

describe('missing values are never zero', () => {
  const marks = [
    '',
    '-',
    '--',
    'NaN',
    '####',
    'OL',
    '+OL',
    'Over',
    'Err',
    'Inf',
    '#N/A',
    'n/a',
    '1.#INF',
    '12.3.4',
    'abc',
  ]
  it.each(marks)('"%s"', async (mark) => {
    const log = await readText(
      file([row(0), `${stamp(1)},${mark},51,21`, row(2), `${stamp(3)},,53,20`, row(4)]),
    )
    expect(Array.from(valuesOf(log, 'Pump pressure [bar]'))).toEqual([
      toSi(100, 'bar'),
      Number.NaN,
      toSi(102, 'bar'),
      Number.NaN,
      toSi(104, 'bar'),
    ])
    expect(problem(log, 'unreadable-cell', 'Pump pressure [bar]')).toMatchObject({ line: 3, count: 2 })
    expect(log.report).toMatchObject({ rowsRead: 5, rowsUsed: 5, rowsRejected: 0 })
  })
  it('counts every cell in full', async () => {
    const log = await readText(file(times(500).map((s) => (s % 50 === 7 ? `${stamp(s)},--,50,20` : row(s)))))
    expect(problem(log, 'unreadable-cell')).toMatchObject({
      count: 10,
      line: 9,
      values: { example: '--', marked: 10 },
    })
  })
  it('takes 9999 for missing where it is implausible, and leaves it where it is not', async () => {
    const odd = await readText(
      file(times(40).map((s) => row(s, s === 5 ? 9999 : undefined, s % 10 === 3 ? 32767 : undefined))),
    )
    expect(problem(odd, 'unreadable-cell', 'Pump pressure [bar]')).toMatchObject({
      count: 1,
      line: 7,
      values: { example: '9999' },
    })
    expect(problem(odd, 'unreadable-cell', 'Line flow [L/min]')).toMatchObject({ count: 4 })
    const watts = `Time,Pump pressure [bar],Motor power [W]\n${times(40)
      .map((s) => `${stamp(s)},100,${9980 + s}`)
      .join('\n')}\n`
    expect(problem(await readText(watts), 'unreadable-cell')).toBeUndefined()
  })
  it('keeps small negative readings', async () => {
    const log = await readText(file([row(0, -0.2), row(1, -0.3)]))
    expect(Array.from(valuesOf(log, 'Pump pressure [bar]'))).toEqual([toSi(-0.2, 'bar'), toSi(-0.3, 'bar')])
    expect(log.report.problems).toEqual([])
  })
})

describe('rows are rejected only with a bad time or no value at all', () => {
  it('names line and count', async () => {
    const log = await readText(
      file([row(0), '????,100,50,20', row(2), `${stamp(3)},-,-,-`, row(4), 'logger restarted', row(5)]),
    )
    expect(log.report).toMatchObject({ rowsRead: 7, rowsUsed: 4, rowsRejected: 3 })
    expect(problem(log, 'row-rejected-time')).toMatchObject({ line: 3, count: 2, column: 'Time' })
    expect(problem(log, 'row-rejected-empty')).toMatchObject({ line: 5, count: 1 })
    expect(problem(log, 'unreadable-cell', 'Motor current [A]')).toMatchObject({ line: 5, count: 1 })
  })
  it('rejects a row with more cells than the header: its values may stand in the wrong column', async () => {
    const log = await readText(file([row(0), `${stamp(1)},1,00,50,20`, row(2)]))
    expect(problem(log, 'row-rejected-columns')).toMatchObject({ line: 3, count: 1 })
    expect(log.report).toMatchObject({ rowsRead: 3, rowsUsed: 2, rowsRejected: 1 })
  })
  it('does not trust the last cell of a line cut off by the end of the file', async () => {
    const log = await readText(`${file([row(0), row(1)])}${stamp(2)},10`)
    expect(log.report).toMatchObject({ rowsRead: 3, rowsUsed: 2, rowsRejected: 1 })
  })
  it('trusts a last line as wide as the others under a wider header', async () => {
    const log = await readText(`${HEAD.trim()},Remark\n${row(0)}\n${row(1)}\n${row(2)}`)
    expect(Array.from(valuesOf(log, 'Motor current [A]'))).toEqual([20, 21, 22])
  })
  it('lets a stray quotation mark spoil its own row only', async () => {
    const log = await readText(file([row(0), `"${row(1)}`, row(2), row(3)]))
    expect(log.report.rowsUsed).toBe(4)
  })
  it('rejects a stamp that leaps away and back', async () => {
    const log = await readText(
      file(times(20).map((s) => (s === 9 ? row(9).replace('2026-', '2926-') : row(s)))),
    )
    expect(problem(log, 'row-rejected-time')).toMatchObject({ line: 11, count: 1 })
    expect(log.trace.timeS[18]).toBe(19)
  })
})

describe('repeated and disordered rows are found out', () => {
  it('drops a row repeated in full', async () => {
    const log = await readText(file([row(0), row(1), row(1), row(2), row(3)]))
    expect(log.report).toMatchObject({ rowsRead: 5, rowsUsed: 4, rowsRejected: 1 })
    expect(problem(log, 'duplicate-row')).toMatchObject({ line: 4, count: 1 })
  })
  it('drops a block repeated in full', async () => {
    const log = await readText(file([...times(50).map((s) => row(s)), ...times(50).map((s) => row(s))]))
    expect(log.report).toMatchObject({ rowsRead: 100, rowsUsed: 50, rowsRejected: 50 })
    expect(problem(log, 'duplicate-row')).toMatchObject({ count: 50, line: 52 })
  })
  it('drops rows all written twice', async () => {
    const log = await readText(file(times(30).flatMap((s) => [row(s), row(s)])))
    expect(log.report).toMatchObject({ rowsUsed: 30, rowsRejected: 30 })
  })
  it('puts displaced rows back', async () => {
    const order = [0, 1, 2, 4, 3, 5, 6, 9, 7, 8, 10, 11]
    const log = await readText(file(order.map((s) => row(s))))
    expect(Array.from(log.trace.timeS)).toEqual(times(12))
    expect(Array.from(valuesOf(log, 'Line flow [L/min]'))).toEqual(
      times(12).map((s) => toSi(50 + (s % 5), 'L/min')),
    )
    expect(problem(log, 'rows-out-of-order')).toMatchObject({ count: 3, line: 6 })
  })
  it('puts a shuffled file in order', async () => {
    const order = times(200).map((i) => (i * 73) % 200)
    const log = await readText(file(order.map((s) => row(s))))
    expect(Array.from(log.trace.timeS)).toEqual(times(200))
    expect(log.report.rowsUsed).toBe(200)
  })
  it('turns a file with the newest row first', async () => {
    const log = await readText(
      file(
        times(20)
          .reverse()
          .map((s) => row(s)),
      ),
    )
    expect(startOf(log)).toBe('2026-03-02T06:00:00.000Z')
    expect(valuesOf(log, 'Motor current [A]')[1]).toBe(21)
    expect(problem(log, 'rows-reversed')).toMatchObject({ count: 20 })
  })
  it('follows on where the clock was set back', async () => {
    const log = await readText(
      file([...times(30).map((s) => row(s)), ...times(30).map((s) => row(s + 10, 130 + (s % 9)))]),
    )
    expect(Array.from(log.trace.timeS)).toEqual(times(60))
    expect(problem(log, 'clock-set-back')).toMatchObject({ line: 32, values: { seconds: 20 } })
  })
  it('spreads ten rows that share a second', async () => {
    const log = await readText(
      file(times(95).map((k) => row(Math.floor((k + 5) / 10), 100 + (k % 7)).replace('.000', ''))),
    )
    expect(log.trace.sampleIntervalS).toBe(0.1)
    expect(log.trace.timeS[94]).toBeCloseTo(9.4, 6)
    expect(log.report.rowsUsed).toBe(95)
    expect(startOf(log)).toBe('2026-03-02T06:00:00.500Z')
    expect(problem(log, 'shared-stamps-spread')).toMatchObject({
      count: 95,
      values: { stepS: 0.1, resolutionS: 1 },
    })
  })
})

describe('clocks', () => {
  const local = (text: string, zone: string) => readText(text, { timeZone: zone })
  const at = (clock: string, k: number): string => `${clock},${100 + (k % 7)},50,20`
  const minutes = (from: number, count: number, day: string): string[] =>
    Array.from({ length: count }, (_, k) => {
      const m = from + k * 5
      return at(
        `${day} ${String(Math.floor(m / 60)).padStart(2, '0')}:${String(m % 60).padStart(2, '0')}:00`,
        k,
      )
    })

  it('starts in the site zone', async () => {
    expect(startOf(await local(file([row(0), row(1)]), 'Europe/Vienna'))).toBe('2026-03-02T05:00:00.000Z')
  })
  it('autumn: the repeated hour is an hour (DST ends in Europe on 25 October 2026, 03:00)', async () => {
    const log = await local(
      file([...minutes(60, 24, '2026-10-25'), ...minutes(120, 24, '2026-10-25')]),
      'Europe/Vienna',
    )
    expect(log.trace.timeS[47]).toBe(47 * 300)
    expect(log.trace.gaps).toEqual([])
    expect(problem(log, 'dst-autumn-repeat')).toMatchObject({ line: 26 })
    expect(startOf(log)).toBe('2026-10-24T23:00:00.000Z')
  })
  it('spring: the skipped hour is no gap (DST begins in Europe on 29 March 2026, 02:00)', async () => {
    const log = await local(
      file([...minutes(60, 12, '2026-03-29'), ...minutes(180, 12, '2026-03-29')]),
      'Europe/Vienna',
    )
    expect(log.trace.timeS[23]).toBe(23 * 300)
    expect(log.trace.gaps).toEqual([])
    expect(problem(log, 'dst-spring-skip')).toMatchObject({ line: 14 })
  })
  it('a clock that shows the skipped hour does not change', async () => {
    const log = await local(file(minutes(60, 36, '2026-03-29')), 'Europe/Vienna')
    expect(log.trace.timeS[35]).toBe(35 * 300)
    expect(problem(log, 'clock-ignores-dst')).toBeDefined()
  })
  it('a clock that passes the autumn hour once does not change', async () => {
    const log = await local(file(minutes(60, 48, '2026-10-25')), 'Europe/Vienna')
    expect(log.trace.timeS[47]).toBe(47 * 300)
    expect(log.trace.gaps).toEqual([])
    expect(problem(log, 'clock-ignores-dst')).toBeDefined()
  })
  it('a log begun in the second of the repeated hours', async () => {
    const log = await local(file(minutes(150, 24, '2026-10-25')), 'Europe/Vienna')
    expect(log.trace.timeS[23]).toBe(23 * 300)
    expect(startOf(log)).toBe('2026-10-25T01:30:00.000Z')
    expect(problem(log, 'assumed-dst')).toMatchObject({ line: 8 })
  })
  it('midnight stamped on the day that ended', async () => {
    const day = (s: number): string => new Date(Date.UTC(2026, 2, 2, 23, 59, 50) + s * 1000).toISOString()
    const lines = times(60).map((s) => {
      const date = s < 30 ? '2026-03-02' : '2026-03-03'
      return `${date}T${day(s).slice(11, 19)},${100 + (s % 7)},50,20`
    })
    const log = await readText(file(lines))
    expect(Array.from(log.trace.timeS)).toEqual(times(60))
    expect(problem(log, 'midnight-same-day')).toMatchObject({ line: 12, count: 20 })
  })
  it('time of day rolls over midnight', async () => {
    const clock = (s: number): string =>
      new Date(Date.UTC(2026, 2, 2, 23, 59, 55) + s * 1000).toISOString().slice(11, 19)
    const log = await readText(file(times(20).map((s) => `${clock(s)},100,50,${20 + s}`)))
    expect(Array.from(log.trace.timeS)).toEqual(times(20))
  })
  it('a stamp without its hour rolls over the hour', async () => {
    const clock = (s: number): string =>
      `${Math.floor(((59 * 60 + s) % 3600) / 60)}:${String(s % 60).padStart(2, '0')}.5`
    const log = await readText(file(times(120).map((s) => `${clock(s)},100,50,${20 + (s % 5)}`)))
    expect(Array.from(log.trace.timeS)).toEqual(times(120))
    expect(log.trace.startedAtMs).toBeNull()
    expect(problem(log, 'hour-lost')).toBeDefined()
  })
  it('refuses a zone nobody knows', async () => {
    await expect(local(file([row(0), row(1)]), 'Mars/Olympus')).rejects.toMatchObject({
      code: 'time-zone-unknown',
    })
  })
})

describe('channels at other rates and stuck sensors', () => {
  const slower = (pressure: (s: number) => number) =>
    times(200).map((s) =>
      row(s, pressure(s), 50, s % 10 === 0 && s !== 100 ? 20 + s : Number.NaN).replace('NaN', ''),
    )
  it('holds a slower channel for its own interval and does not flood the report', async () => {
    const log = await readText(file(slower(() => 100)))
    const current = valuesOf(log, 'Motor current [A]')
    expect(Array.from(current.subarray(0, 12))).toEqual([20, 20, 20, 20, 20, 30, 30, 30, 30, 30, 30, 30])
    expect(Array.from(current.subarray(88, 112))).toEqual([
      ...times(12).map(() => 110),
      ...times(10).map(() => Number.NaN),
      130,
      130,
    ])
    expect(problem(log, 'slower-channel')).toMatchObject({
      column: 'Motor current [A]',
      values: { intervalS: 10, rowsPerValue: 10 },
    })
    expect(problem(log, 'unreadable-cell')).toMatchObject({ count: 10 })
  })
  it('lets a slower channel change where a quicker one does', async () => {
    const log = await readText(file(slower((s) => (s % 20 < 8 ? 100 : 30) + (s % 3) / 10)))
    const current = valuesOf(log, 'Motor current [A]')
    expect(Array.from(current.subarray(0, 12))).toEqual([
      ...times(8).map(() => 20),
      ...times(4).map(() => 30),
    ])
  })
  it('reads one channel a row', async () => {
    const lines = times(90).map((s) => {
      const cells = ['', '', '']
      cells[s % 3] = String(100 + s)
      return `${stamp(s)},${cells.join(',')}`
    })
    const log = await readText(file(lines))
    // Read in rows 2 and 5: each row has the reading nearest to it.
    expect(Array.from(valuesOf(log, 'Motor current [A]').subarray(2, 6))).toEqual([102, 102, 105, 105])
    expect(log.report.rowsRejected).toBe(0)
  })
  it('names a sensor that stops moving while the others go on', async () => {
    const lines = times(2000).map((s) =>
      row(s, s > 500 && s < 1200 ? 123.4 : 100 + 10 * Math.sin(s), 50 + Math.cos(s)),
    )
    const log = await readText(file(lines))
    expect(problem(log, 'stuck-sensor')).toMatchObject({
      column: 'Pump pressure [bar]',
      line: 503,
      count: 699,
      values: { value: 123.4 },
    })
  })
})
