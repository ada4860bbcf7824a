import { describe, expect, it } from 'vitest'
import { fromSi, toSi } from '@/lib/units'
import { problem, readBytes, readText, startOf, utf8, valuesOf } from './log-text'

const P = [10.5, 150.25, 160, 12.125, 0.5, 80]
const Q = [85, 20.5, 0, 84.75, 85.125, 40]
const I = [16.25, 38, 41.5, 17.125, 16, 30]

interface Fixture {
  readonly name: string
  readonly text: string | Uint8Array
  readonly column?: string
  readonly start?: string | null
  readonly stepS?: number
}

const iso = (i: number): string => `2026-03-02T06:00:0${i}.000`
const rows = (make: (i: number) => string, end = '\n'): string => P.map((_, i) => make(i)).join(end) + end
const comma = (value: number): string => String(value).replace('.', ',')

function encode16(text: string, little: boolean, bom: boolean): Uint8Array {
  const body = bom ? `\ufeff${text}` : text
  const bytes = new Uint8Array(body.length * 2)
  for (let i = 0; i < body.length; i++) {
    const code = body.charCodeAt(i)
    bytes[2 * i + (little ? 0 : 1)] = code & 255
    bytes[2 * i + (little ? 1 : 0)] = code >> 8
  }
  return bytes
}

function latin(text: string): Uint8Array {
  return Uint8Array.from(text, (char) => char.charCodeAt(0) & 255)
}

const plain = `Time,Pump pressure [bar],Line flow [L/min],Motor current [A]\n${rows((i) => `${iso(i)},${P[i]},${Q[i]},${I[i]}`)}`
const semicolon = (
  stamp: (i: number) => string,
  head = 'Zeit;Pumpendruck [bar];Volumenstrom Leitung [l/min];Motorstrom [A]',
) => `${head}\n${rows((i) => `${stamp(i)};${comma(P[i])};${comma(Q[i])};${comma(I[i])}`)}`

const START = '2026-03-02T06:00:00.000Z'
const german = 'Pumpendruck [bar]'
const fixtures: readonly Fixture[] = [
  { name: 'comma, point, ISO', text: plain },
  { name: 'CR LF', text: plain.replaceAll('\n', '\r\n') },
  { name: 'CR only', text: plain.replaceAll('\n', '\r') },
  { name: 'CR here and LF there', text: plain.replace(/\n(?=.*06:00:03)/, '\r') },
  {
    name: 'rate as a value in the preamble',
    text: `Serial,12345\nStart,2026-03-02 06:00:00\nInterval,0.5 s\n\nNo,Pump pressure [bar],Line flow [L/min],Motor current [A]\n${rows((i) => `${i + 1},${P[i]},${Q[i]},${I[i]}`)}`,
    stepS: 0.5,
  },
  {
    name: 'fixed width with units below the names',
    text: `Time                 Pump pressure   Line flow   Motor current\n                     bar             L/min       A\n${rows((i) => `${iso(i)}  ${String(P[i]).padStart(10)}  ${String(Q[i]).padStart(10)}  ${I[i]}`)}`,
    column: 'Pump pressure',
  },
  {
    name: 'time with dots',
    text: semicolon((i) => `22.03.2026 06.00.0${i}`),
    column: german,
    start: '2026-03-22T06:00:00.000Z',
  },
  { name: 'UTF-8 with byte order mark', text: `\ufeff${plain}` },
  { name: 'UTF-16 LE with mark', text: encode16(plain, true, true) },
  { name: 'UTF-16 BE with mark', text: encode16(plain, false, true) },
  { name: 'UTF-16 LE without mark', text: encode16(plain, true, false) },
  { name: 'no line end at the end', text: plain.trimEnd() },
  { name: 'tab', text: plain.replaceAll(',', '\t') },
  { name: 'pipe', text: plain.replaceAll(',', ' | ') },
  {
    name: 'space',
    text: `Time Pump_pressure_bar Line_flow_lpm Motor_current_A\n${rows((i) => `${iso(i)}  ${P[i]}  ${Q[i]}   ${I[i]}`)}`,
    column: 'Pump_pressure_bar',
  },
  {
    name: 'space between date and time too',
    text: `Date Time Pump_pressure_bar Line_flow_lpm Motor_current_A\n${rows((i) => `${iso(i).replace('T', ' ')} ${P[i]} ${Q[i]} ${I[i]}`)}`,
    column: 'Pump_pressure_bar',
  },
  { name: 'semicolon, decimal comma', text: semicolon(iso), column: german },
  {
    name: 'comma with quoted decimal commas',
    text: `Time,Pump pressure [bar],Line flow [L/min],Motor current [A]\n${rows((i) => `${iso(i)},"${comma(P[i])}","${comma(Q[i])}","${comma(I[i])}"`)}`,
  },
  {
    name: 'all quoted',
    text: plain
      .split('\n')
      .map((line) =>
        line === ''
          ? ''
          : line
              .split(',')
              .map((cell) => `"${cell}"`)
              .join(','),
      )
      .join('\n'),
  },
  {
    name: 'day first with dots, a day above 12',
    text: semicolon((i) => `22.03.2026 06:00:0${i}`),
    column: german,
    start: '2026-03-22T06:00:00.000Z',
  },
  {
    name: 'month first, a day above 12, 12 h',
    text: plain.replace(/2026-03-02T0(6:00:0\d).000/g, '03/22/2026 $1 PM'),
    start: '2026-03-22T18:00:00.000Z',
  },
  {
    name: '12 h noon',
    text: plain.replace(/2026-03-02T06(:00:0\d).000/g, '2026-03-02 12$1 a.m.'),
    start: '2026-03-02T00:00:00.000Z',
  },
  { name: 'zone Z', text: plain.replaceAll('.000,', '.000Z,') },
  { name: 'zone +01:00', text: plain.replaceAll('.000,', '.000+01:00,'), start: '2026-03-02T05:00:00.000Z' },
  { name: 'slashes year first', text: plain.replaceAll('2026-03-02T', '2026/03/02 ') },
  { name: 'month named', text: plain.replaceAll('2026-03-02T', '02-Mar-2026 ') },
  { name: 'month named in German', text: semicolon((i) => `2. März 2026 06:00:0${i}`), column: german },
  {
    name: 'decimal comma in seconds',
    text: semicolon((i) => `02.03.2026 06:00:00,${i}00`),
    column: german,
    stepS: 0.1,
  },
  { name: 'colon before milliseconds', text: plain.replace(/:0(\d).000/g, ':00:$100'), stepS: 0.1 },
  { name: 'unpadded', text: plain.replace(/2026-03-02T06:00:0(\d).000/g, '2026-3-2 6:0:$1') },
  { name: 'basic ISO', text: plain.replace(/2026-03-02T06:00:0(\d).000/g, '20260302T06000$1') },
  {
    name: 'milliseconds in a column of their own',
    text: `Date,Time,Millisecond,Pump pressure [bar],Line flow [L/min],Motor current [A]\n${rows((i) => `2026-03-02,06:00:00,${i * 100},${P[i]},${Q[i]},${I[i]}`)}`,
    stepS: 0.1,
  },
  {
    name: 'date and time apart',
    text: semicolon(
      (i) => `02.03.2026;06:00:0${i}`,
      'Datum;Uhrzeit;Pumpendruck [bar];Volumenstrom Leitung [l/min];Motorstrom [A]',
    ),
    column: german,
  },
  {
    name: 'epoch s',
    text: plain.replace(/2026-03-02T06:00:0(\d).000/g, (_, i) => String(1772431200 + Number(i))),
  },
  {
    name: 'epoch ms',
    text: plain.replace(/2026-03-02T06:00:0(\d).000/g, (_, i) => String(1772431200000 + 100 * Number(i))),
    stepS: 0.1,
  },
  {
    name: 'spreadsheet serial',
    text: plain.replace(/2026-03-02T06:00:0(\d).000/g, (_, i) => (46083.25 + Number(i) / 86400).toFixed(9)),
  },
  {
    name: 'seconds since start',
    text: plain.replace(/2026-03-02T06:00:0(\d).000/g, '$1').replace('Time', 'time_s'),
    start: null,
  },
  {
    name: 'ms since start',
    text: plain.replace(/2026-03-02T06:00:0(\d).000/g, '$100').replace('Time', 'Time [ms]'),
    start: null,
    stepS: 0.1,
  },
  { name: 'time of day', text: plain.replaceAll('2026-03-02T', ''), start: null },
  { name: 'hour lost', text: plain.replace(/2026-03-02T06:00:0(\d).000/g, '00:0$1.0'), start: null },
  {
    name: 'elapsed with start in the preamble',
    text: `Logger;4711\nStart time;2026-03-02 06:00:00\nChannels;3\n\n${semicolon((i) => String(i), 'Zeit [s];Pumpendruck [bar];Volumenstrom Leitung [l/min];Motorstrom [A]')}`,
    column: german,
  },
  {
    name: 'time of day with the date in the preamble',
    text: `Messung\nDatum: 02.03.2026\n\n${semicolon((i) => `06:00:0${i}`)}`,
    column: german,
  },
  {
    name: 'rate in the preamble, no time column',
    text: `Sampling rate: 10 Hz\nStart: 2026-03-02 06:00:00\n${rows((i) => `${i + 1};${P[i]};${Q[i]};${I[i]}`).replace(/^/, 'Nr;Pump pressure [bar];Line flow [L/min];Motor current [A]\n')}`,
    stepS: 0.1,
  },
  {
    name: 'long preamble with separators of its own',
    text: `sep=;\n${Array.from({ length: 60 }, (_, i) => `Setting ${i};${i * 3};2026-01-0${1 + (i % 9)};off`).join('\n')}\n\n${semicolon(iso)}`,
    column: german,
  },
  {
    name: 'units in a row of their own',
    text: `Time;P pump;Q line;I motor\n;bar;l/min;A\n${rows((i) => `${iso(i)};${P[i]};${Q[i]};${I[i]}`)}`,
    column: 'P pump',
  },
  {
    name: 'units in brackets in a row of their own',
    text: `Time,P pump,Q line,I motor\n[-],[bar],[L/min],[A]\n${rows((i) => `${iso(i)},${P[i]},${Q[i]},${I[i]}`)}`,
    column: 'P pump',
  },
  {
    name: 'units above the names',
    text: `s;bar;l/min;A\nTime;P pump;Q line;I motor\n${rows((i) => `${iso(i)};${P[i]};${Q[i]};${I[i]}`)}`,
    column: 'P pump',
  },
  {
    name: 'header cells quoted over two lines',
    text: `Time,"Pump pressure\n[bar]","Line flow\n[L/min]","Motor current\n[A]"\n${rows((i) => `${iso(i)},${P[i]},${Q[i]},${I[i]}`)}`,
  },
  {
    name: 'text columns between',
    text: `Time;State;Pump pressure [bar];Line flow [L/min];Shift;Motor current [A]\n${rows((i) => `${iso(i)};RUN;${P[i]};${Q[i]};early;${I[i]}`)}`,
  },
  {
    name: 'units after a comma',
    text: `Time;Pump pressure, bar;Line flow, lpm;Current, A\n${rows((i) => `${iso(i)};${P[i]};${Q[i]};${I[i]}`)}`,
    column: 'Pump pressure, bar',
  },
  {
    name: 'units behind every number',
    text: plain.replace(/,([\d.]+),([\d.]+),([\d.]+)\n/g, ',$1 bar,$2 L/min,$3 A\n').replace(/ \[.*?\]/g, ''),
    column: 'Pump pressure',
  },
  { name: 'trailing empty columns', text: plain.replaceAll('\n', ',,\n') },
  {
    name: 'trailing empty columns in the rows only',
    text: plain.replaceAll('\n', ',\n').replace(',\n', '\n'),
  },
  { name: 'blank lines between', text: plain.replaceAll('\n', '\n\n') },
  {
    name: 'repeated header',
    text: plain.replace(
      '2026-03-02T06:00:03',
      'Time,Pump pressure [bar],Line flow [L/min],Motor current [A]\n2026-03-02T06:00:03',
    ),
  },
]

describe('every dialect gives the same samples', () => {
  for (const { name, text, column = 'Pump pressure [bar]', start = START, stepS = 1 } of fixtures) {
    it(name, async () => {
      const bytes = typeof text === 'string' ? utf8(text) : text
      for (const chunk of [7, 4096, 1 << 20]) {
        const log = await readBytes(bytes, { chunk })
        expect(log.trace.channels.map((c) => [c.quantity, c.location])).toEqual([
          ['pressure', 'pump-outlet'],
          ['flow', 'system-line'],
          ['current', 'motor-supply'],
        ])
        expect(Array.from(valuesOf(log, column))).toEqual(P.map((value) => toSi(value, 'bar')))
        expect(Array.from(log.trace.channels[1].values)).toEqual(Q.map((value) => toSi(value, 'L/min')))
        expect(Array.from(log.trace.channels[2].values)).toEqual(I)
        expect(startOf(log)).toBe(start)
        expect(Array.from(log.trace.timeS)).toEqual(P.map((_, i) => Math.round(i * stepS * 1e6) / 1e6))
        expect(log.trace.sampleIntervalS).toBeCloseTo(stepS, 9)
        expect(log.report.rowsRead).toBe(6)
        expect(log.report.rowsUsed).toBe(6)
      }
    })
  }
})

describe('encodings', () => {
  it('reads the degree sign and ³ of Windows-1252', async () => {
    const text = `Zeit;Druck Pumpe [bar];Durchfluss Pumpe [m\u00b3/h];\u00d6ltemperatur [\u00b0C]\n${rows((i) => `${iso(i)};${comma(P[i])};5,${i};4${i},5`)}`
    const log = await readBytes(latin(text))
    expect(log.report.dialect.encoding).toBe('windows-1252')
    expect(log.trace.channels.map((c) => c.unit)).toEqual(['bar', 'm³/h', '°C'])
    expect(log.trace.channels[2].column).toBe('Öltemperatur [°C]')
    expect(log.trace.channels[2].location).toBe('oil')
  })
})

describe('decimal mark', () => {
  const file = (cells: readonly string[]): string =>
    `t [s];Motor power [W];Pump pressure [bar]\n${cells.map((cell, i) => `${i};${cell};${100 + i}`).join('\n')}\n`

  it('takes thousands marks where other cells settle the decimal mark', async () => {
    const log = await readText(file(['1.234,5', '2.345,25', '950,0']))
    expect(Array.from(valuesOf(log, 'Motor power [W]'))).toEqual([1234.5, 2345.25, 950])
    expect(problem(log, 'assumed-decimal-mark')).toBeUndefined()
  })
  it('settles late in the file and mends what it had read before', async () => {
    const many = Array.from({ length: 60_000 }, (_, i) => `1.${100 + (i % 900)}`)
    const log = await readText(file([...many, '12,5']))
    const values = valuesOf(log, 'Motor power [W]')
    expect(values[0]).toBe(1100)
    expect(values[60_000]).toBe(12.5)
    expect(log.report.dialect.decimalMark).toBe(',')
    expect(problem(log, 'assumed-decimal-mark')).toBeUndefined()
  })
  it('assumes a decimal where every number carries three digits behind the mark', async () => {
    const log = await readText(file(['1.234', '2.345', '3.456']))
    expect(Array.from(valuesOf(log, 'Motor power [W]'))).toEqual([1.234, 2.345, 3.456])
    expect(problem(log, 'assumed-decimal-mark')?.values).toEqual({
      assumed: '.',
      other: ',',
      mark: '.',
      example: '1.234',
      reading: 1.234,
      otherReading: 1234,
    })
  })
  it('assumes thousands where whole numbers below 1000 stand beside them', async () => {
    const log = await readText(file(['950', '1.234', '2.345', '870']))
    expect(Array.from(valuesOf(log, 'Motor power [W]'))).toEqual([950, 1234, 2345, 870])
    expect(problem(log, 'assumed-decimal-mark')).toMatchObject({
      count: 2,
      values: { assumed: ',', example: '1.234', reading: 1234, otherReading: 1.234 },
    })
  })
  it('assumes thousands where commas in quotation marks stand between commas, unless whole numbers above them do too', async () => {
    const quoted = (cells: readonly string[], bar: (i: number) => string) =>
      `t [s],Motor power [W],Pump pressure [bar]\n${cells.map((cell, i) => `${i},"${cell}",${bar(i)}`).join('\n')}\n`
    const cells = ['11,987', '12,345', '12,001']
    const log = await readText(quoted(cells, (i) => `${100 + i}`))
    expect(Array.from(valuesOf(log, 'Motor power [W]'))).toEqual([11987, 12345, 12001])
    expect(problem(log, 'assumed-decimal-mark')?.values).toMatchObject({
      assumed: '.',
      reading: 11987,
      otherReading: 11.987,
    })
    const settled = await readText(quoted(cells, (i) => `"${100 + i},5"`))
    expect(valuesOf(settled, 'Motor power [W]')[0]).toBe(11.987)
    expect(problem(settled, 'assumed-decimal-mark')).toBeUndefined()
    const above = await readText(quoted([...cells, '1200'], (i) => `${100 + i}`))
    expect(valuesOf(above, 'Motor power [W]')[0]).toBe(11.987)
  })
  it('takes spaces and apostrophes as thousands marks', async () => {
    const log = await readText(file(['1 234,5', '2\u00a0345,5', "3'456,5"]))
    expect(Array.from(valuesOf(log, 'Motor power [W]'))).toEqual([1234.5, 2345.5, 3456.5])
  })
})

describe('day order', () => {
  const file = (dates: readonly string[]): string =>
    `Time;Pump pressure [bar];Motor current [A]\n${dates.map((date, i) => `${date};${100 + i},5;20,5`).join('\n')}\n`

  it('is an assumption where nothing settles it', async () => {
    const log = await readText(file(['03/02/2026 06:00:00', '03/02/2026 06:00:01']))
    expect(startOf(log)).toBe('2026-02-03T06:00:00.000Z')
    expect(problem(log, 'assumed-day-order')?.values).toMatchObject({
      assumed: 'day-first',
      reading: '2026-02-03',
      other: 'month-first',
      otherReading: '2026-03-02',
    })
  })
  it('is month first at a site in the United States', async () => {
    const text = file(['03/02/2026 06:00:00', '03/02/2026 06:00:01']).replaceAll(',5', '.5')
    const log = await readText(text, { timeZone: 'America/Chicago' })
    expect(startOf(log)).toBe('2026-03-02T12:00:00.000Z')
    expect(problem(log, 'assumed-day-order')?.values).toMatchObject({ assumed: 'month-first' })
  })
  it('is settled by the date moving on over midnight', async () => {
    const log = await readText(
      file(['03/02/2026 23:59:58', '03/02/2026 23:59:59', '03/03/2026 00:00:00', '03/03/2026 00:00:01']),
    )
    expect(startOf(log)).toBe('2026-03-02T23:59:58.000Z')
    expect(problem(log, 'assumed-day-order')).toBeUndefined()
  })
  it('is settled by one day above 12 at the far end of the file', async () => {
    const dates = Array.from(
      { length: 40_000 },
      (_, i) =>
        `05/0${1 + Math.floor(i / 5000)}/2026 06:${String(Math.floor((i % 3600) / 60)).padStart(2, '0')}:${String(i % 60).padStart(2, '0')}`,
    )
    const log = await readText(file([...dates, '13/09/2026 06:00:00']))
    expect(startOf(log)?.slice(0, 10)).toBe('2026-01-05')
    expect(problem(log, 'assumed-day-order')).toBeUndefined()
  })
})

it('keeps SI exactly convertible back', async () => {
  const log = await readText(plain)
  expect(fromSi(valuesOf(log, 'Pump pressure [bar]')[1], 'bar')).toBeCloseTo(150.25, 12)
})
