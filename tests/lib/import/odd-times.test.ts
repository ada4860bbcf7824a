import { describe, expect, it } from 'vitest'
import { joinLogs } from '@/lib/import/join-logs'
import { MACHINE, problem, readText, startOf, valuesOf } from './log-text'

const COUNT = 1200
const START = Date.UTC(2026, 2, 22, 9, 58, 20)
const NAMES = ['Pump pressure [bar]', 'Line flow [L/min]', 'Motor current [A]']
const at = (s: number): Date => new Date(START + s * 1000)
const two = (n: number): string => String(n).padStart(2, '0')
const parts = (s: number) => {
  const date = at(s)
  return {
    y: date.getUTCFullYear(),
    mo: two(date.getUTCMonth() + 1),
    d: two(date.getUTCDate()),
    h: two(date.getUTCHours()),
    mi: two(date.getUTCMinutes()),
    s: two(date.getUTCSeconds()),
  }
}
type Parts = ReturnType<typeof parts>
const seconds = Array.from({ length: COUNT }, (_, s) => s)
const values = (s: number): string => `${100 + (s % 7)}.5;${50 + (s % 5)}.25;${20 + (s % 3)}.125`
const file = (stamps: readonly string[], head = 'Time', of = seconds): string =>
  `${head};${NAMES.join(';')}\n${of.map((s, i) => `${stamps[i]};${values(s)}`).join('\n')}\n`
const clock = '2026-03-22T09:58:20.000Z'
const days = (Date.UTC(2026, 2, 22) - Date.UTC(1899, 11, 30)) / 86_400_000
const share = (p: Parts): string => ((Number(p.h) + Number(p.mi) / 60 + Number(p.s) / 3600) / 24).toFixed(10)

const forms: readonly (readonly [string, (p: Parts) => string, string | null, string?])[] = [
  ['dots in a time alone', (p) => `${p.h}.${p.mi}.${p.s}`, null],
  ['dots and a fraction in a time alone', (p) => `${p.h}.${p.mi}.${p.s},000`, null],
  ['dots in a time beside its date', (p) => `${p.d}/${p.mo}/${p.y};${p.h}.${p.mi}.${p.s}`, clock, 'Data;Ora'],
  ['h and min', (p) => `${p.d}/${p.mo}/${p.y} ${p.h}h${p.mi}m${p.s}s`, clock],
  ['h and colon', (p) => `${p.d}/${p.mo}/${p.y} ${p.h}h${p.mi}:${p.s}`, clock],
  ['days before the clock', (p) => `1 ${p.h}:${p.mi}:${p.s}`, null, 'Elapsed'],
  ['a time span', (p) => `1.${p.h}:${p.mi}:${p.s}.0`, null, 'Elapsed'],
  ['year last', (p) => `Sun Mar ${p.d} ${p.h}:${p.mi}:${p.s} 2026`, clock],
  ['14 digits', (p) => `${p.y}${p.mo}${p.d}${p.h}${p.mi}${p.s}`, clock],
  ['14 digits and a fraction', (p) => `${p.y}${p.mo}${p.d}${p.h}${p.mi}${p.s}.000`, clock],
  ['17 digits', (p) => `${p.y}${p.mo}${p.d}${p.h}${p.mi}${p.s}000`, clock],
  ['digits in two columns', (p) => `${p.y}${p.mo}${p.d};${p.h}${p.mi}${p.s}`, clock, 'Date;Time'],
  ['digits with zeros lost', (p) => `${p.y}${p.mo}${p.d};${Number(p.h + p.mi + p.s)}`, clock, 'Date;Time'],
  ['underscore between', (p) => `${p.y}-${p.mo}-${p.d}_${p.h}:${p.mi}:${p.s}`, clock],
  ['dash between', (p) => `${p.y}/${p.mo}/${p.d}-${p.h}:${p.mi}:${p.s}`, clock],
  ['colon between', (p) => `${p.d}/Mar/${p.y}:${p.h}:${p.mi}:${p.s}`, clock],
  [
    'a date at midnight beside the time',
    (p) => `${p.d}.${p.mo}.${p.y} 00:00:00;${p.h}:${p.mi}:${p.s}`,
    clock,
    'Datum;Zeit',
  ],
  ['serial day and share of the day', (p) => `${days};${share(p)}`, clock, 'Date;Time'],
]

describe('time written otherwise', () => {
  for (const [name, write, start, head] of forms) {
    it(name, async () => {
      const log = await readText(file(seconds.map(parts).map(write), head))
      expect(startOf(log)).toBe(start)
      expect(Array.from(log.trace.timeS)).toEqual(seconds)
      expect(log.report).toMatchObject({ rowsUsed: COUNT, rowsRejected: 0, problems: [] })
    })
  }
})

const iso = (ms: number): string => new Date(ms).toISOString().slice(0, 23)
const stamps = seconds.map((s) => iso(START + s * 1000))

describe('clocks that were never set or lost their date', () => {
  const lost = (s: number): string => iso(Date.UTC(2000, 0, 1) + s * 1000)
  it('moves rows from before the clock was set up to the others', async () => {
    const log = await readText(file(stamps.map((stamp, s) => (s < 50 ? lost(s) : stamp))))
    expect(startOf(log)).toBe(clock)
    expect(Array.from(log.trace.timeS)).toEqual(seconds)
    expect(problem(log, 'clock-unset')).toMatchObject({ line: 2, count: 50 })
  })
  it('follows on through a block without its date and takes up the right clock again', async () => {
    const log = await readText(file(stamps.map((stamp, s) => (s >= 500 && s < 700 ? lost(s) : stamp))))
    expect(startOf(log)).toBe(clock)
    expect(Array.from(log.trace.timeS)).toEqual(seconds)
    expect(problem(log, 'clock-set-back')).toMatchObject({ line: 502, count: 1 })
    expect(problem(log, 'clock-set-forward')).toMatchObject({ line: 702, count: 1 })
  })
})

describe('rows out of turn are not wrong times', () => {
  it('one row far from its place', async () => {
    const order = seconds.filter((s) => s !== 300)
    order.splice(1000, 0, 300)
    const log = await readText(
      file(
        order.map((s) => stamps[s]),
        'Time',
        order,
      ),
    )
    expect(Array.from(log.trace.timeS)).toEqual(seconds)
    expect(problem(log, 'rows-out-of-order')).toMatchObject({ line: 1002, count: 1 })
    expect(log.report.rowsRejected).toBe(0)
  })
  it('a file shuffled throughout', async () => {
    let seed = 7
    const order = [...seconds]
    for (let i = COUNT - 1; i > 0; i--) {
      seed = (seed * 48_271) % 2_147_483_647
      const k = seed % (i + 1)
      const kept = order[i]
      order[i] = order[k]
      order[k] = kept
    }
    const log = await readText(
      file(
        order.map((s) => stamps[s]),
        'Time',
        order,
      ),
    )
    expect(Array.from(log.trace.timeS)).toEqual(seconds)
    expect(log.report.rowsRejected).toBe(0)
  })
})

it('a damaged count beyond all dates costs its row alone', async () => {
  const epochs = seconds.map((s) => String(START + s * 1000))
  epochs[20] = '1234567890123456789'
  const { report } = await readText(file(epochs, 'epoch'))
  expect(report).toMatchObject({ rowsUsed: COUNT - 1, rowsRejected: 1 })
  expect(report.problems).toMatchObject([
    { code: 'row-rejected-time', line: 22, count: 1, values: { found: null } },
  ])
})

describe('declared columns', () => {
  const declare = (...columns: readonly string[]) => ({
    ...MACHINE,
    channels: columns.map((column, i) => ({
      column,
      quantity: (['pressure', 'flow', 'current'] as const)[i],
    })),
  })
  it('are found though their accents were lost on the way', async () => {
    const text = file(stamps).replace('Line flow', 'Débit ligne')
    for (const column of ['Debit ligne [L/min]', 'DÃ©bit ligne [L/min]', 'D\ufffdbit ligne [L/min]']) {
      const log = await readText(text, { machine: declare(NAMES[0], column, NAMES[2]) })
      expect(log.trace.channels[1].column).toBe('Débit ligne [L/min]')
    }
  })
  it('may stand in another file of the recording, not in none', async () => {
    const machine = declare(...NAMES)
    const cut = (from: number, to?: number): string =>
      file(stamps)
        .split('\n')
        .filter((line) => line !== '')
        .map((line) => [line.split(';')[0], ...line.split(';').slice(1).slice(from, to)].join(';'))
        .join('\n')
    const [a, b] = [
      await readText(cut(0, 2), { machine, isPart: true }),
      await readText(cut(2), { machine, isPart: true }),
    ]
    const log = joinLogs([a, b])
    expect(log.trace.channels.map((channel) => channel.column)).toEqual(NAMES)
    expect(valuesOf(log, NAMES[2])[5]).toBe(22.125)
    expect(() => joinLogs([a, a])).toThrow('channel-column-not-found')
    await expect(readText(cut(0, 2), { machine })).rejects.toMatchObject({ code: 'channel-column-not-found' })
  })
})

describe('elapsed times with another decimal mark than the values', () => {
  const rows = (mark: string, valueMark: string) =>
    Array.from({ length: 600 }, (_, k) => {
      const value = (number: number) => number.toFixed(2).replace('.', valueMark)
      const time = (0.2 * k).toFixed(3).replace('.', mark)
      return `${time};${value(150 + (k % 3))};${value(37.2)};${value(25.1)}`
    }).join('\n')

  it.each([
    ['.', ','],
    [',', '.'],
  ])('are read by their own: %s beside %s', async (mark, valueMark) => {
    const text = `Time (s);${NAMES.join(';')}\n${rows(mark, valueMark)}\n`
    const log = await readText(text)
    expect(log.trace.sampleIntervalS).toBeCloseTo(0.2, 9)
    expect(log.trace.timeS[599]).toBeCloseTo(119.8, 6)
    expect(valuesOf(log, NAMES[1])[0]).toBeCloseTo(37.2 / 60_000, 9)
    expect(log.report.rowsUsed).toBe(600)
  })
})
