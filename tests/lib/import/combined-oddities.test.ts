import { describe, expect, it } from 'vitest'
import { fromSi } from '@/lib/units'
import { problem, readText, startOf, valuesOf } from './log-text'

// Oddities that are harmless one by one and were misread together. That loggers write such files is common practice, no source.

const COUNT = 60
const seconds = Array.from({ length: COUNT }, (_, i) => i)
const P = (i: number) => 1000 + 37 * (i % 7) + 0.5
const Q = (i: number) => 50 + (i % 5) + 0.25
const two = (n: number) => String(n).padStart(2, '0')
const bars = (log: Awaited<ReturnType<typeof readText>>, column: string) =>
  Array.from(valuesOf(log, column), (value) => Number(fromSi(value, 'bar').toPrecision(9)))

describe('units behind numbers with thousands marks', () => {
  it.each([' ', "'", '.'])('%s', async (mark) => {
    const grouped = (value: number) =>
      `${1}${mark}${String(value - 1000)
        .replace('.', ',')
        .padStart(5, '0')}`
    const rows = seconds.map(
      (i) => `2026-03-22 06:00:${two(i)};${grouped(P(i))} kPa;${String(Q(i)).replace('.', ',')} l/min`,
    )
    const log = await readText(`Zeit;Pumpendruck;Volumenstrom Leitung\n${rows.join('\n')}\n`)
    expect(Array.from(valuesOf(log, 'Pumpendruck'))).toEqual(seconds.map((i) => P(i) * 1000))
  })
})

it('a restart with lines of numbers above its header adds no row', async () => {
  const above = [
    'Logger;7',
    ...[0, 1, 2].map((i) => `${i};${i}.5;${i}.25`),
    '',
    'Elapsed [s];Pump pressure [bar];Line flow [L/min]',
  ]
  const rows = seconds.map((i) => `${i};${P(i) / 10};${Q(i)}`)
  const text = [...above, ...rows.slice(0, 30), '', ...above, ...rows.slice(30)].join('\n')
  const log = await readText(text)
  expect(log.report.rowsRead).toBe(COUNT)
  expect(Array.from(log.trace.timeS)).toEqual(seconds)
  expect(bars(log, 'Pump pressure [bar]')).toEqual(seconds.map((i) => Number((P(i) / 10).toPrecision(9))))
})

describe('lines above rows without names are no names', () => {
  it.each([
    ['of words and numbers', 'Channel 1;range 250;4.5'],
    ['of words and numbers, as many as the rows have', 'Channel 1;range;250;4.5'],
    ['of dates', 'written;2026-03-22;06:00:00'],
  ])('%s', async (_, line) => {
    const rows = seconds.map((i) => `2026-03-22 06:00:${two(i)};${P(i) / 10};${Q(i)};${20 + i / 8}`)
    const log = await readText([...Array(20).fill(line), ...rows].join('\n'), {
      machine: null,
    }).catch((error) => error)
    // Without a nameplate columns without names stay unknown: what matters is that no line above passes for names.
    expect(log.code).toBe('no-usable-channel')
    expect(log.values.columns).toBe('Column 2 | Column 3 | Column 4')
  })
})

it('a count of rows named No, and numbers above the names, hide no names', async () => {
  const above = [0, 1, 2, 3].map((i) => `${i}\t${i},5\t${i},25\t${i}`)
  const rows = seconds.map(
    (i) =>
      `${i + 1}\t${i * 500}\t${String(P(i) / 10).replace('.', ',')}\t${String(Q(i)).replace('.', ',')}\t20,5`,
  )
  const log = await readText(
    [...above, 'No\tTemps [ms]\tPression pompe\tDébit circuit\tCourant moteur', ...rows].join('\n'),
  )
  expect(Array.from(log.trace.timeS)).toEqual(seconds.map((i) => i / 2))
  expect(log.trace.channels.map(({ quantity }) => quantity)).toEqual(['pressure', 'flow', 'current'])
})

it('a row of units for half of the columns belongs to its names', async () => {
  const rows = seconds.map((i) => `${i + 1};22.03.2026;06:00:${two(i)};${P(i) / 100};${Q(i)};`)
  const log = await readText(
    ['No;Data;Ora;Pressione pompa;Portata linea;', ';;;MPa;l/min;', ...rows].join('\n'),
  )
  expect(log.report.dialect.headerLine).toBe(1)
  expect(log.trace.channels.map(({ unit }) => unit)).toEqual(['MPa', 'L/min'])
})

it('tabs part cells that blanks would part, too', async () => {
  const above = Array.from({ length: 20 }, (_, i) => `${i} ${i}.5 ${i}.25 ${i}`)
  const rows = seconds.map((i) => `${two(i)}:${two(i)}.5\t${P(i) / 10}\t${Q(i)}\t`)
  const log = await readText([...above, 'Time\tP pump (bar)\tQ line (lpm)\tRemark', ...rows].join('\n'))
  expect(log.report.dialect.delimiter).toBe('\t')
  expect(log.trace.channels.map(({ column }) => column)).toEqual(['P pump (bar)', 'Q line (lpm)'])
})

it('without names the column that rises counts the time, not the one that counts the rows', async () => {
  const rows = seconds.map((i) => `12.4;${i + 1};${(i * 0.25).toFixed(2)};${P(i) / 10} bar;${Q(i)} L/min`)
  const log = await readText(rows.join('\n'))
  expect(Array.from(log.trace.timeS)).toEqual(seconds.map((i) => i / 4))
})

describe('times of day below a date', () => {
  const above = (date: string) => `Start: ${date}\n\nZeit;Pumpendruck [bar];Volumenstrom Leitung [l/min]\n`
  const rows = (clock: (i: number) => string) =>
    seconds.map((i) => `${clock(i)};${P(i) / 10};${Q(i)}`).join('\n')
  const timeZone = 'Europe/Vienna'

  // Clocks change in Europe on 29 March and 25 October 2026 (directive 2000/84/EC: last Sundays, 01:00 UTC).
  it('skip the hour of spring', async () => {
    const clock = (i: number) => (i < 30 ? `01:59:${two(30 + i)}` : `03:00:${two(i - 30)}`)
    const log = await readText(`${above('2026-03-29 01:59:30')}${rows(clock)}`, { timeZone })
    expect(startOf(log)).toBe('2026-03-29T00:59:30.000Z')
    expect(Array.from(log.trace.timeS)).toEqual(seconds)
    expect(problem(log, 'dst-spring-skip')).toBeDefined()
  })
  it('repeat the hour of autumn', async () => {
    const clock = (i: number) => (i < 30 ? `02:59:${two(30 + i)}` : `02:00:${two(i - 30)}`)
    const log = await readText(`${above('2026-10-25 02:59:30')}${rows(clock)}`, { timeZone })
    expect(startOf(log)).toBe('2026-10-25T00:59:30.000Z')
    expect(Array.from(log.trace.timeS)).toEqual(seconds)
    expect(problem(log, 'dst-autumn-repeat')).toBeDefined()
  })
  it('do so where a person gives the day, too', async () => {
    const clock = (i: number) => (i < 30 ? `02:59:${two(30 + i)}` : `02:00:${two(i - 30)}`)
    const text = `Zeit;Pumpendruck [bar];Volumenstrom Leitung [l/min]\n${rows(clock)}`
    const log = await readText(text, { timeZone, answers: { startedAt: '2026-10-25T02:59' } })
    expect(startOf(log)).toBe('2026-10-25T00:59:30.000Z')
    expect(Array.from(log.trace.timeS)).toEqual(seconds)
    expect(problem(log, 'answer-not-used')).toBeUndefined()
  })
})

describe('numbers that say "no value" in a unit that reaches beyond them', () => {
  const reading = (i: number) => 6000 + 90 * i + 0.5
  const read = (marks: ReadonlyMap<number, number>) =>
    readText(
      `Time;Pump pressure [kPa];Line flow [L/min]\n${seconds
        .map((i) => `2026-03-22 06:00:${two(i)};${marks.get(i) ?? reading(i)};${Q(i)}`)
        .join('\n')}`,
    )
  const missing = (log: Awaited<ReturnType<typeof read>>) =>
    seconds.filter((i) => Number.isNaN(valuesOf(log, 'Pump pressure [kPa]')[i]))

  it('one far below all others', async () => {
    expect(missing(await read(new Map([[20, -9999]])))).toEqual([20])
  })
  it('one to which the readings leap again and again', async () => {
    expect(
      missing(
        await read(
          new Map([
            [3, 9999],
            [10, 9999],
            [11, 9999],
            [20, 9999],
          ]),
        ),
      ),
    ).toEqual([3, 10, 11, 20])
  })
  it('none that the readings pass', async () => {
    const log = await readText(
      `Time;Pump pressure [kPa];Line flow [L/min]\n${seconds
        .map((i) => `2026-03-22 06:00:${two(i)};${9990 + 3 * (i % 7)};${Q(i)}`)
        .join('\n')}`,
    )
    expect(missing(log)).toEqual([])
  })
})

describe('line ends that change within a file', () => {
  const many = Array.from({ length: 24_000 }, (_, i) => `${i};${100 + (i % 50)}.5;${20 + (i % 9)}.25`)
  const head = 'Elapsed [s];Pump pressure [bar];Line flow [L/min]'
  const parts = (first: string, then: string) =>
    [head, ...many.slice(0, 22_000)].join(first) + first + many.slice(22_000).join(then)
  it.each([
    ['CR alone', '\r', '\r'],
    ['CR, behind the first 256 kB LF', '\r', '\n'],
    ['CR, behind the first 256 kB CR LF', '\r', '\r\n'],
    ['LF, then CR', '\n', '\r'],
  ])('%s', async (_, first, then) => {
    const text = parts(first, then)
    for (const chunk of [777, 1 << 20]) {
      const log = await readText(text, { chunk })
      expect(log.report).toMatchObject({ rowsRead: many.length, rowsUsed: many.length, problems: [] })
      expect(log.trace.timeS.at(-1)).toBe(many.length - 1)
    }
  })
})

// Clocks change in Europe on 29 March and 25 October 2026 (directive 2000/84/EC: last Sundays, 01:00 UTC).
describe('newest row first over a change of the clock', () => {
  const timeZone = 'Europe/Vienna'
  const newestFirst = (cell: (i: number) => string) =>
    readText(
      `Time;Pump pressure [bar];Line flow [L/min]\n${seconds
        .map((i) => `${cell(i)};${P(i) / 10};${Q(i)}`)
        .reverse()
        .join('\n')}`,
      { timeZone },
    )
  it.each([
    [
      'spring',
      (i: number) => (i < 30 ? `29.03.2026 01:59:${two(30 + i)}` : `29.03.2026 03:00:${two(i - 30)}`),
      '2026-03-29T00:59:30.000Z',
      'dst-spring-skip',
    ],
    [
      'autumn',
      (i: number) => (i < 30 ? `25.10.2026 02:59:${two(30 + i)}` : `25.10.2026 02:00:${two(i - 30)}`),
      '2026-10-25T00:59:30.000Z',
      'dst-autumn-repeat',
    ],
    [
      'autumn, spreadsheet serial',
      (i: number) => (46_320 + (i < 30 ? 10_770 + i : 7200 + i - 30) / 86_400).toFixed(10),
      '2026-10-25T00:59:30.000Z',
      'dst-autumn-repeat',
    ],
  ])('%s', async (_, cell, start, code) => {
    const log = await newestFirst(cell)
    expect(startOf(log)).toBe(start)
    expect(Array.from(log.trace.timeS)).toEqual(seconds)
    expect(bars(log, 'Pump pressure [bar]')).toEqual(seconds.map((i) => Number((P(i) / 10).toPrecision(9))))
    expect(log.report.problems.map((found) => found.code)).toEqual(['rows-reversed', code])
  })
})

it('a log from end to end within the repeated hour says that either pass may be meant', async () => {
  const rows = seconds.map((i) => `25.10.2026 02:20:${two(i)};${P(i) / 10};${Q(i)}`)
  const read = (answer?: string) =>
    readText(`Time;Pump pressure [bar];Line flow [L/min]\n${rows.join('\n')}`, {
      timeZone: 'Europe/Vienna',
      answers: answer ? { timeZone: answer } : {},
    })
  const log = await read()
  expect(startOf(log)).toBe('2026-10-25T00:20:00.000Z')
  expect(problem(log, 'assumed-dst')).toBeDefined()
  const second = await read('+01:00')
  expect(startOf(second)).toBe('2026-10-25T01:20:00.000Z')
  expect(problem(second, 'assumed-dst')).toBeUndefined()
})

it('a unit of two words behind every number is read', async () => {
  const rows = seconds.map((i) => `2026-03-22 06:00:${two(i)};${P(i) / 10} bar;${Q(i)} US gpm`)
  const log = await readText(`Time;Pump pressure;Line flow\n${rows.join('\n')}`)
  expect(log.trace.channels.map(({ unit }) => unit)).toEqual(['bar', 'gpm'])
  expect(log.report.problems).toEqual([])
})
