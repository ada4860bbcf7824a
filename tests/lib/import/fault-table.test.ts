import { Readable } from 'node:stream'
import { gzipSync } from 'node:zlib'
import { afterAll, describe, expect, it } from 'vitest'
import { unpacked } from '@/app/_command/unpacked'
import { joinLogs } from '@/lib/import/join-logs'
import { readLog } from '@/lib/import/read-log'
import type { ReadLog } from '@/lib/import/report'
import { inFull } from '@/lib/samples/samples'
import { fromSi } from '@/lib/units'
import { readText, startOf, valuesOf } from './log-text'
import { printShown, show } from './shown-table'

// What goes wrong while a logger writes, each with what is left of the truth. DIALECT_TABLE=1 prints what was understood.
// That loggers do so is common practice, no source; clocks change in Europe by directive 2000/84/EC (29 March and
// 25 October 2026, 01:00 UTC).

const COUNT = 240
const ZONE = 'Europe/Vienna'
const seconds = Array.from({ length: COUNT }, (_, i) => i)
const START = Date.UTC(2026, 2, 22, 6)
const P = (i: number) => (i % 40 < 20 ? 150 : 30) + (i % 7) / 4
const Q = (i: number) => (i % 40 < 20 ? 10 : 60) + (i % 5) / 4
const isoAt = (ms: number) => new Date(ms).toISOString().slice(0, 19)
const iso = (i: number) => isoAt(START + i * 1000)
const NAMES = ['Pump pressure [bar]', 'Line flow [L/min]'] as const
const HEAD = ['Time', ...NAMES].join(';')
const row = (i: number, stamp = iso(i), p: number | string = P(i), q: number | string = Q(i)) =>
  [stamp, p, q].join(';')
const file = (rows: readonly string[]) => `${[HEAD, ...rows].join('\n')}\n`
const read = (text: string, timeZone = 'UTC', fileName = 'log.csv') => readText(text, { timeZone, fileName })

const logged = (log: ReadLog, column: string) =>
  Array.from(valuesOf(log, column), (value) =>
    Number(fromSi(value, column === NAMES[0] ? 'bar' : 'L/min').toPrecision(9)),
  )

interface Case {
  readonly log: () => Promise<ReadLog>
  readonly codes: readonly string[]
  readonly start?: string
  readonly timeS?: readonly number[]
  readonly pressures?: readonly number[]
}

const part = (from: number, to: number, fileName: string) =>
  readText(file(seconds.slice(from, to).map((i) => row(i))), { fileName })
const missingAt = (at: readonly number[]) => seconds.map((i) => (at.includes(i) ? Number.NaN : P(i)))
const MARKS = ['', '-', '--', 'NaN', '####', 'OL', '+OL', 'Over', 'Err', 'Inf', '9999', '-9999', '32767']

const cases: Readonly<Record<string, Case>> = {
  'thousands marks beside a decimal comma': {
    log: () =>
      read(
        `Time;Pump pressure [kPa];Line flow [L/min]\n${seconds
          .map(
            (i) =>
              `${iso(i)};${(P(i) * 100 + 1000).toFixed(1).replace(/(\d)(\d{3})\.(\d)/, '$1.$2,$3')};${String(Q(i)).replace('.', ',')}`,
          )
          .join('\n')}`,
      ),
    codes: [],
    pressures: seconds.map((i) => Number((P(i) + 10).toFixed(3))),
  },
  'packed as .gz': {
    log: () =>
      readLog(
        unpacked(
          Readable.from([gzipSync(file(seconds.map((i) => row(i))))], { objectMode: false }),
          'log.csv.gz',
        ),
        {
          fileName: 'log.csv.gz',
          machine: null,
          timeZone: 'UTC',
        },
      ),
    codes: [],
  },
  'several files, given in any order': {
    log: async () => joinLogs([await part(150, 240, 'c'), await part(0, 60, 'a'), await part(60, 150, 'b')]),
    codes: [],
  },
  'marks for no value': {
    log: () => read(file(seconds.map((i) => row(i, iso(i), MARKS[i - 100] ?? P(i))))),
    codes: ['unreadable-cell'],
    pressures: missingAt(MARKS.map((_, k) => 100 + k)),
  },
  'overflow of a count of 16 bits': {
    log: () => read(file(seconds.map((i) => row(i, iso(i), i > 50 && i < 54 ? 3276.7 : P(i))))),
    codes: ['unreadable-cell'],
    pressures: missingAt([51, 52, 53]),
  },
  'rows out of order': {
    log: () => read(file([...seconds.slice(0, 50), 53, 50, 51, 52, ...seconds.slice(54)].map((i) => row(i)))),
    codes: ['rows-out-of-order'],
  },
  'time running backwards: a clock set back by 100 s': {
    log: () => read(file(seconds.map((i) => row(i, isoAt(START + i * 1000 - (i < 120 ? 0 : 100_000)))))),
    codes: ['clock-set-back'],
  },
  'an hour that comes twice in autumn': {
    log: () =>
      read(
        file(seconds.map((i) => row(i, isoAt(Date.UTC(2026, 9, 25, i < 120 ? 2 : 1, 58) + i * 1000)))),
        ZONE,
      ),
    codes: ['dst-autumn-repeat'],
    start: '2026-10-25T00:58:00.000Z',
  },
  'an hour that is skipped in spring': {
    log: () =>
      read(
        file(seconds.map((i) => row(i, isoAt(Date.UTC(2026, 2, 29, i < 120 ? 1 : 2, 58) + i * 1000)))),
        ZONE,
      ),
    codes: ['dst-spring-skip'],
    start: '2026-03-29T00:58:00.000Z',
  },
  'a channel logged five times less often': {
    log: () => read(file(seconds.map((i) => row(i, iso(i), P(i), i % 5 === 0 ? Q(i) : '')))),
    codes: ['slower-channel'],
  },
  'a second header with its preamble after a restart': {
    log: () => {
      const above = ['Logger 7', 'Channel;1;0.5', '1;0.5;2', '', HEAD]
      return read(
        [
          ...above,
          ...seconds.slice(0, 90).map((i) => row(i)),
          ...above,
          ...seconds.slice(90).map((i) => row(i)),
        ].join('\n'),
      )
    },
    codes: ['repeated-header'],
  },
}

afterAll(printShown)

describe('one recording, whatever went wrong while it was written', () => {
  it.each(Object.entries(cases))(
    '%s',
    async (name, { log, codes, start = '2026-03-22T06:00:00.000Z', ...want }) => {
      const done = await log()
      show(name, done)
      expect(done.report.problems.map(({ code }) => code)).toEqual(codes)
      expect(startOf(done)).toBe(start)
      expect(Array.from(inFull(done.trace.timeS))).toEqual(want.timeS ?? seconds)
      const column = done.trace.channels[0].column
      const pressures = Array.from(valuesOf(done, column), (value) =>
        Number(fromSi(value, 'bar').toPrecision(9)),
      )
      expect(pressures).toEqual(want.pressures ?? seconds.map(P))
      expect(done.report.rowsUsed + done.report.rowsRejected).toBe(done.report.rowsRead)
    },
  )

  it('a sensor that stops moving', async () => {
    const rows = Array.from({ length: 2000 }, (_, i) =>
      row(i, iso(i), i > 500 && i < 1200 ? 123.4 : 100 + 10 * Math.sin(i), 50 + Math.cos(i)),
    )
    const log = await read(file(rows))
    show('a sensor that stops moving', log)
    expect(log.report.problems).toMatchObject([{ code: 'stuck-sensor', column: NAMES[0], count: 699 }])
  })

  it('two loggers with clocks seven seconds apart', async () => {
    const isOn = (s: number) => (Math.sin(s / 7) + Math.sin(s / 11.3) > 0.2 ? 1 : 0)
    const of = (name: string, fileName: string, value: (s: number) => number, behindS: number) =>
      readText(
        `Time;${name}\n${Array.from({ length: 900 }, (_, s) => `${isoAt(START + (s - behindS) * 1000)};${value(s)}`).join('\n')}\n`,
        { fileName },
      )
    const log = joinLogs([
      await of(NAMES[0], 'one.csv', (s) => 30 + 120 * isOn(s), 0),
      await of('Motor current [A]', 'two.csv', (s) => 17 + 20 * isOn(s), 7),
    ])
    show('two loggers with clocks seven seconds apart', log)
    const [shift] = log.report.problems.filter(({ code }) => code === 'assumed-clock-shift')
    expect(shift.values).toMatchObject({ file: 'two.csv' })
    expect(Number(shift.values.shiftS)).toBeCloseTo(7, 0)
    expect(logged(log, NAMES[0])[100]).toBe(30 + 120 * isOn(100))
  })
})
