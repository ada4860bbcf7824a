import { afterAll, describe, expect, it } from 'vitest'
import { fromSi } from '@/lib/units'
import { BALER } from '../../invented/baler'
import { readBytes, startOf, utf8 } from './log-text'
import { printShown, show } from './shown-table'

// One recording, written in every way that loggers write: whatever the file looks like, its samples are these.
// DIALECT_TABLE=1 prints what was understood of each, fault-table.test.ts the rest of it.
// The forms are those of the list; that they occur is common practice, no source.

const COUNT = 60
const seconds = Array.from({ length: COUNT }, (_, i) => i)
const P = (i: number) => 100 + (i % 7) + 0.5
const Q = (i: number) => 50 + (i % 5) + 0.25
const I = (i: number) => 20 + (i % 3) + 0.125
const START = Date.UTC(2026, 2, 22, 6)
const at = (i: number, stepMs = 1000) => new Date(START + i * stepMs)
const iso = (i: number) => at(i).toISOString().slice(0, 19)
const two = (n: number) => String(n).padStart(2, '0')
const comma = (value: number | string) => String(value).replace('.', ',')

const HEAD = ['Time', 'Pump pressure [bar]', 'Line flow [L/min]', 'Motor current [A]']
type Row = (i: number) => readonly (string | number)[]
const plain: Row = (i) => [iso(i), P(i), Q(i), I(i)]
const european: Row = (i) => [iso(i), comma(P(i)), comma(Q(i)), comma(I(i))]
const stamped =
  (...write: readonly ((i: number) => string | number)[]): Row =>
  (i) => [...write.map((cell) => cell(i)), P(i), Q(i), I(i)]

interface Written {
  readonly by?: string
  readonly head?: readonly string[] | null
  readonly row?: Row
  readonly above?: string
  readonly end?: string
  /** Lines that stand before a row. */
  readonly before?: Readonly<Record<number, string>>
}

function text({ by = ';', head = HEAD, row = plain, above = '', end = '\n', before = {} }: Written): string {
  const lines = seconds.flatMap((i) => [...(before[i] === undefined ? [] : [before[i]]), row(i).join(by)])
  return above + [...(head === null ? [] : [head.join(by)]), ...lines].join(end) + end
}

function wide(content: string, little: boolean): Uint8Array {
  const bytes = new Uint8Array(2 * content.length)
  const view = new DataView(bytes.buffer)
  for (let i = 0; i < content.length; i++) view.setUint16(2 * i, content.charCodeAt(i), little)
  return bytes
}

interface Case {
  readonly file: string | Uint8Array
  readonly start?: string | null
  readonly stepS?: number
  readonly mark?: '.' | ','
  readonly format?: string
  readonly encoding?: string
  readonly notices?: readonly string[]
}

const CLOCK = '2026-03-22T06:00:00.000Z'
const USUAL_FORMAT = 'iso'
const cases: Readonly<Record<string, Case>> = {
  'separator ,': { file: text({ by: ',' }) },
  'separator ;': { file: text({}) },
  'separator tab': { file: text({ by: '\t' }) },
  'separator |': { file: text({ by: ' | ' }) },
  'a frame of | with a rule below the names': {
    file: text({
      by: ' | ',
      head: ['', ...HEAD, '\n|---|---|---|---|---|'],
      row: (i) => ['', ...plain(i), ''],
    }).replaceAll(/^ /gm, ''),
  },
  'separator blank': { file: text({ by: ' ', head: HEAD.map((name) => name.replaceAll(' ', '_')) }) },
  'blanks, fixed width': {
    file: text({
      by: '',
      head: ['Time                  P_pump_bar  Q_line_lpm  I_motor_A'],
      row: (i) => plain(i).map((cell) => String(cell).padEnd(22)),
    }),
  },
  'decimal comma': { file: text({ row: european }), mark: ',' },
  'decimal comma in quotation marks between commas': {
    file: text({ by: ',', row: (i) => european(i).map((cell, c) => (c === 0 ? cell : `"${cell}"`)) }),
    mark: ',',
  },
  'every cell in quotation marks': {
    file: text({
      by: ',',
      head: HEAD.map((cell) => `"${cell}"`),
      row: (i) => plain(i).map((cell) => `"${cell}"`),
    }),
  },
  'preamble of 80 lines': { file: text({ above: `${'Setting;4;on;0,5\n'.repeat(80)}\n` }) },
  'preamble with a start right above the names': {
    file: text({
      above: 'Start time;2026-03-22 06:00:00\n',
      head: ['Elapsed', ...HEAD.slice(1)],
      row: stamped((i) => `00:00:${two(i)}`),
    }),
    format: 'time-of-day',
  },
  'units in round brackets': {
    file: text({ head: HEAD.map((name) => name.replace('[', '(').replace(']', ')')) }),
  },
  'units after a comma': {
    file: text({ head: HEAD.map((name) => name.replace(' [', ', ').replace(']', '')) }),
  },
  'units behind an underscore': {
    file: text({ head: ['Time', 'pump_pressure_bar', 'line_flow_lpm', 'motor_current_A'] }),
  },
  'units in a row of their own': {
    file: text({ head: ['Time', 'Pump pressure', 'Line flow', 'Motor current\n;bar;l/min;A'] }),
  },
  'units above the names': {
    file: text({ above: ';bar;l/min;A\n', head: ['Time', 'Pump pressure', 'Line flow', 'Motor current'] }),
  },
  'units behind the numbers': {
    file: text({
      head: ['Time', 'Pump pressure', 'Line flow', 'Motor current'],
      row: (i) => [iso(i), `${P(i)} bar`, `${Q(i)} L/min`, `${I(i)} A`],
    }),
  },
  'units absent': {
    file: text({ head: ['Time', 'Pump pressure', 'Line flow', 'Motor current'] }),
    notices: ['assumed-unit', 'assumed-unit'],
  },
  'repeated header after a restart': {
    file: text({ before: { 20: HEAD.join(';'), 40: HEAD.join(';') } }),
    notices: ['repeated-header'],
  },
  'trailing empty columns': { file: text({ head: [...HEAD, '', ''], row: (i) => [...plain(i), '', ''] }) },
  'trailing empty columns in the rows alone': { file: text({ row: (i) => [...plain(i), ''] }) },
  'UTF-8 with a mark': { file: `\ufeff${text({})}`, encoding: 'utf-8' },
  'UTF-16, low byte first': { file: wide(`\ufeff${text({})}`, true), encoding: 'utf-16le' },
  'UTF-16, high byte first': { file: wide(`\ufeff${text({})}`, false), encoding: 'utf-16be' },
  'UTF-16 without a mark': { file: wide(text({}), true), encoding: 'utf-16le' },
  'Windows-1252': {
    file: Uint8Array.from(text({ head: [...HEAD, 'Gerät °'], row: (i) => [...plain(i), 'ö'] }), (char) =>
      char.charCodeAt(0),
    ),
    encoding: 'windows-1252',
  },
  'CR LF': { file: text({ end: '\r\n' }) },
  CR: { file: text({ end: '\r' }) },
  'ISO, zoned': {
    file: text({ row: stamped((i) => `${iso(i)}+02:00`) }),
    start: '2026-03-22T04:00:00.000Z',
    format: 'iso-zoned',
  },
  'ISO, a blank before the zone': {
    file: text({ row: stamped((i) => `${iso(i).replace('T', ' ')} Z`) }),
    format: 'iso-zoned',
  },
  'day first': { file: text({ row: stamped((i) => `22.03.2026 06:00:${two(i)}`) }), format: 'day-first' },
  'day first, two digits of the year': {
    file: text({ row: stamped((i) => `22/03/26 06:00:${two(i)}`) }),
    format: 'day-first',
  },
  'month first': { file: text({ row: stamped((i) => `03/22/2026 06:00:${two(i)}`) }), format: 'month-first' },
  '12 h': {
    file: text({ row: stamped((i) => `3/22/2026 6:00:${two(i)} PM`) }),
    start: '2026-03-22T18:00:00.000Z',
    format: 'month-first',
  },
  '12 h with a narrow blank and a comma': {
    file: text({ row: stamped((i) => `3/22/2026, 6:00:${two(i)}\u202fAM`) }),
    format: 'month-first',
  },
  'month named': { file: text({ row: stamped((i) => `22-Mär-2026 06:00:${two(i)}`) }) },
  'date and time in two columns': {
    file: text({
      head: ['Datum', 'Uhrzeit', ...HEAD.slice(1)],
      row: stamped(
        () => '22.03.2026',
        (i) => `06:00:${two(i)}`,
      ),
    }),
    format: 'day-first',
  },
  'epoch s': { file: text({ row: stamped((i) => START / 1000 + i) }), format: 'epoch-s' },
  'epoch ms': { file: text({ row: stamped((i) => START + 100 * i) }), stepS: 0.1, format: 'epoch-ms' },
  'epoch µs': {
    file: text({ row: stamped((i) => 1000 * (START + 100 * i)) }),
    stepS: 0.1,
    format: 'epoch-us',
  },
  'seconds since 1904': {
    file: text({ row: stamped((i) => (START - Date.UTC(1904, 0, 1)) / 1000 + i) }),
    format: 'epoch-1904-s',
  },
  'spreadsheet serial': {
    file: text({ row: stamped((i) => (25_569 + at(i).getTime() / 86_400_000).toFixed(9)) }),
    format: 'serial',
  },
  'seconds since start, start in the preamble': {
    file: text({
      above: 'Start: 22.03.2026 06:00:00\n\n',
      head: ['t [s]', ...HEAD.slice(1)],
      row: stamped((i) => (i / 10).toFixed(1)),
    }),
    stepS: 0.1,
    format: 'elapsed',
  },
  'seconds since start, without one': {
    file: text({ head: ['t [s]', ...HEAD.slice(1)], row: stamped((i) => i) }),
    start: null,
    format: 'elapsed',
  },
  'a count in ms that could be one in s since 1970': {
    file: text({ head: ['Time [ms]', ...HEAD.slice(1)], row: stamped((i) => 1_260_000_000 + 250 * i) }),
    start: null,
    stepS: 0.25,
    format: 'elapsed',
  },
  'hour lost': {
    file: text({
      row: stamped(
        (i) => `${two(59 + Math.floor((i + 30) / 60) - (i >= 30 ? 60 : 0))}:${two((i + 30) % 60)}.5`,
      ),
    }),
    start: null,
    format: 'hour-lost',
    notices: ['hour-lost'],
  },
  'newest row first': {
    file: text({ row: (i) => plain(COUNT - 1 - i) }),
    notices: ['rows-reversed'],
  },
  'rows written twice': {
    file: text({ before: { 5: plain(4).join(';'), 30: plain(29).join(';') } }),
    notices: ['duplicate-row'],
  },
}

async function read(file: string | Uint8Array) {
  return readBytes(typeof file === 'string' ? utf8(file) : file, { chunk: 1000 })
}

afterAll(printShown)

describe('one recording, however it is written', () => {
  it.each(Object.entries(cases))(
    '%s',
    async (name, { file, start = CLOCK, stepS = 1, mark = '.', ...told }) => {
      const log = await read(file)
      show(name, log)
      const { trace, report } = log
      const inLogged = trace.channels.map(({ quantity, location, unit, values }) => [
        `${quantity} ${location} ${unit}`,
        Array.from(values, (value) => Number(fromSi(value, unit).toPrecision(9))),
      ])
      expect(inLogged).toEqual([
        ['pressure pump-outlet bar', seconds.map(P)],
        ['flow system-line L/min', seconds.map(Q)],
        ['current motor-supply A', seconds.map(I)],
      ])
      expect(trace.startedAtMs === null ? null : new Date(trace.startedAtMs).toISOString()).toBe(start)
      expect(Array.from(trace.timeS)).toEqual(seconds.map((i) => Math.round(i * stepS * 1e6) / 1e6))
      expect(report.dialect).toMatchObject({
        decimalMark: mark,
        timeFormat: told.format ?? USUAL_FORMAT,
        ...(told.encoding === undefined ? {} : { encoding: told.encoding }),
      })
      expect(report.rowsUsed + report.rowsRejected).toBe(report.rowsRead)
      expect(report.problems.map(({ code }) => code)).toEqual(told.notices ?? [])
    },
  )
})

describe('what reads two ways is said with both readings', () => {
  const shown = async (file: string) => {
    const log = await read(file)
    show(expect.getState().currentTestName?.split(' > ').at(-1) ?? '', log)
    return log
  }
  it('day or month first', async () => {
    const { report } = await shown(text({ row: stamped((i) => `03/04/2026 06:00:${two(i)}`) }))
    expect(report.problems).toMatchObject([
      { code: 'assumed-day-order', values: { reading: '2026-04-03', otherReading: '2026-03-04' } },
    ])
  })
  it('day or month first in a start above the table', async () => {
    const above = 'Start: 03.04.2026 06:00:00\n\n'
    const { report } = await shown(text({ above, head: ['t [s]', ...HEAD.slice(1)], row: stamped((i) => i) }))
    expect(report.problems).toMatchObject([
      { code: 'assumed-day-order', line: 1, values: { reading: '2026-04-03', otherReading: '2026-03-04' } },
    ])
  })
  it('1.234', async () => {
    const { report } = await shown(
      text({ head: ['t [s]', 'Motor power [W]', 'Pump pressure [bar]'], row: (i) => [i, '1.234', 100 + i] }),
    )
    expect(report.problems).toMatchObject([
      { code: 'assumed-decimal-mark', values: { example: '1.234', reading: 1.234, otherReading: 1234 } },
    ])
  })
  it('s or ms', async () => {
    const { report } = await shown(text({ row: stamped((i) => i) }))
    expect(report.problems).toMatchObject([
      { code: 'assumed-time-unit', values: { assumed: 's', other: 'ms' } },
    ])
  })
  it('columns without a header by the nameplate', async () => {
    const flow = (i: number) => (i % 20 < 10 ? 0 : 84)
    const row: Row = (i) => [iso(i), 150 + (i % 7), flow(i), 38 + (i % 3)]
    const log = await readBytes(utf8(text({ head: null, row })), {
      machine: { ...BALER, channels: undefined },
    })
    show('no header: columns by the nameplate', log)
    expect(log.trace.channels.map(({ quantity }) => quantity)).toEqual(['pressure', 'flow', 'current'])
    expect(log.report.problems.filter(({ code }) => code === 'assumed-quantity')).toHaveLength(3)
    expect(startOf(log)).toBe(CLOCK)
  })
})
