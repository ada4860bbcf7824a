import fc from 'fast-check'
import { afterEach, expect, it, vi } from 'vitest'
import { TankwardError } from '@/lib/errors'
import { readLog } from '@/lib/import/read-log'
import { RegularRows } from '@/lib/import/regular-rows'
import type { ReadLog } from '@/lib/import/report'
import { HEAD_BYTES } from '@/lib/import/text-lines'
import { traceInFull } from '@/lib/samples/trace'
import { inChunks, MACHINE } from './log-text'

// The reader by bytes and the reader by text are held against each other, to the last bit, on files of many dialects
// full of what loggers do. The reference is the other path of this project; that one is held to `Number` and to
// ISO 8601 in number.test.ts and stamp.test.ts.

/** Rows that the head sample holds, from which the dialect is decided. */
const HEAD_ROWS = 45
const STEP_MS = 250

const pad = (value: number, digits = 2): string => String(value).padStart(digits, '0')

type Write = (at: Date, mark: string) => readonly string[]
const day = (at: Date): string => at.toISOString().slice(0, 10)
const clock = (at: Date): string => at.toISOString().slice(11, 19)
const ms = (at: Date): string => pad(at.getUTCMilliseconds(), 3)
const european = (at: Date, by: string): string =>
  [pad(at.getUTCDate()), pad(at.getUTCMonth() + 1), at.getUTCFullYear()].join(by)
const halfDay = (at: Date): string => {
  const hour = at.getUTCHours()
  return `${hour % 12 === 0 ? 12 : hour % 12}${clock(at).slice(2)} ${hour < 12 ? 'AM' : 'PM'}`
}
const unpadded = (at: Date): string =>
  `${at.getUTCMonth() + 1}/${at.getUTCDate()}/${at.getUTCFullYear()} ${halfDay(at)}`
const american = (at: Date): string =>
  `${pad(at.getUTCMonth() + 1)}/${pad(at.getUTCDate())}/${at.getUTCFullYear()}`

/** Forms of time: their header cells and how a row writes them. */
const TIMES: readonly (readonly [readonly string[], Write])[] = [
  [['Time'], (at) => [`${day(at)}T${clock(at)}.${ms(at)}`]],
  [['Time'], (at) => [`${day(at)}T${clock(at)}.${ms(at)}Z`]],
  [['Time'], (at) => [`${day(at)}T${clock(at)}`]],
  [['Timestamp'], (at, mark) => [`${day(at)} ${clock(at)}${mark}${ms(at)}`]],
  [['Zeit'], (at, mark) => [`${european(at, '.')} ${clock(at)}${mark}${ms(at)}`]],
  [['Time'], (at) => [`${american(at)} ${clock(at)}.${ms(at).slice(0, 2)}`]],
  [['Datum', 'Uhrzeit'], (at) => [european(at, '.'), `${clock(at)}.${ms(at)}`]],
  [['Date', 'Time', 'ms'], (at) => [day(at), clock(at), String(at.getUTCMilliseconds())]],
  [['Time [s]'], (at, mark) => [((at.getTime() % 1e8) / 1000).toFixed(3).replace('.', mark)]],
  [['epoch'], (at) => [String(at.getTime())]],
  [['Time'], (at) => [`${clock(at)}.${ms(at)}`]],
  [['Time'], (at) => [unpadded(at)]],
  [['Date', 'Time'], (at) => [american(at), halfDay(at)]],
  [['Zeit'], (at) => [`${at.getUTCDate()}. März ${at.getUTCFullYear()} ${clock(at)}`]],
  [['Time'], (at) => [`${at.getUTCDate()}-Mar-${at.getUTCFullYear()} ${clock(at)}.${ms(at)}417`]],
  [['Time'], (at) => [`${day(at)}T${clock(at)}.${ms(at)}417+05:30`]],
  [['Time'], (at) => [`${day(at)} ${clock(at)}:${ms(at)}`]],
  [['Time'], (at) => [`${day(at)} ${at.getUTCHours()}:${at.getUTCMinutes()}:${at.getUTCSeconds()}`]],
  [['Elapsed'], (at) => [`1 ${clock(at)}.${ms(at)}`]],
  [['Time [s]'], (at) => [((at.getTime() % 1e8) / 1000).toFixed(3)]],
  [['Time'], (at) => [`${day(at).replaceAll('-', '')}${clock(at).replaceAll(':', '')}.${ms(at)}`]],
]

const dialect = fc.record({
  delimiter: fc.constantFrom(';', ',', '\t', '|', ' '),
  mark: fc.constantFrom('.', ','),
  time: fc.nat(TIMES.length - 1),
  newline: fc.constantFrom('\n', '\r\n'),
  bom: fc.boolean(),
  encoding: fc.constantFrom('utf8', 'latin1', 'utf16le'),
  /** How every cell is dressed. */
  dress: fc.constantFrom('bare', 'bare', 'quoted', 'padded', 'units', 'sparse'),
  /** The time stands behind the first number, or behind a word. */
  first: fc.constantFrom('time', 'time', 'number', 'word'),
  /** No cell tells the decimal mark. */
  whole: fc.boolean(),
  /** A column of words that means nothing to the trace. */
  remark: fc.boolean(),
  trailing: fc.boolean(),
  /** Just before midnight, and at the two ends of an hour that comes twice. */
  start: fc.constantFrom(
    Date.UTC(2026, 2, 3, 6),
    Date.UTC(2026, 2, 12, 23, 59, 50),
    Date.UTC(2025, 9, 26, 0, 59, 45),
  ),
})

const CELLS = [
  ...[
    '',
    ' ',
    '-',
    '---',
    'OL',
    'n/a',
    '"12.5"',
    '"1;2,3"',
    'a"b',
    '1e3',
    '1.5E-02',
    '1,5e+01',
    '+4.5',
    ' 7.25',
    '7.25 ',
  ],
  ...[
    '123456789012345',
    '1234567890123456789',
    '0.1234567890123456789',
    '1.2345678901234567e+30',
    '9007199254740993',
  ],
  ...[
    '1.234',
    '1,234',
    '1.234,5',
    "1'234.5",
    '-0',
    '-0.0',
    '-0,0',
    '.5',
    '5.',
    '-.25',
    '−5.5',
    '12.5 bar',
    'é',
    '999.9',
  ],
  ...[
    '1e400',
    '1e-320',
    '5e22',
    '123456789012345e22',
    '4.9e-22',
    '1e23',
    '1e+',
    'e5',
    '0x10',
    'Infinity',
    '007.50',
  ],
  ...[
    '\r',
    '\0',
    '--5',
    '1.2.3',
    '12,5',
    '12.5',
    '60',
    'x'.repeat(100),
    '1'.repeat(90),
    '\u00a012.5',
    '0.000000000000001',
  ],
]
const ROWS = [
  'blank',
  'header',
  'short',
  'long',
  'twice',
  'swap',
  'note',
  'no time',
  'crs',
  'lf',
  'crlf',
  'cr',
  'lines',
] as const
const MORE = ['open quote', 'bom', 'bytes', 'jump', 'day', 'empty', 'padded', 'zone', 'cut'] as const

const surprise = fc.record({
  row: fc.nat(160),
  change: fc.oneof(
    { weight: 3, arbitrary: fc.record({ cell: fc.nat(5), text: fc.constantFrom(...CELLS) }) },
    { weight: 2, arbitrary: fc.constantFrom(...ROWS, ...MORE) },
  ),
})

const number = fc.oneof(
  fc.double({ min: -200, max: 400, noNaN: true }).map((value) => value.toFixed(2)),
  fc.integer({ min: 0, max: 3000 }).map((value) => String(value / 8)),
  fc.integer({ min: -20, max: 2000 }).map(String),
)

const file = fc.record({
  dialect,
  values: fc.array(number, { minLength: 12, maxLength: 40 }),
  rows: fc.integer({ min: 20, max: 150 }),
  surprises: fc.array(surprise, { maxLength: 8 }),
  ending: fc.constantFrom('newline', 'none', 'cut', 'padding'),
  chunk: fc.oneof(
    { weight: 1, arbitrary: fc.integer({ min: 1, max: 100 }) },
    { weight: 4, arbitrary: fc.integer({ min: 101, max: 10_000 }) },
  ),
  machine: fc.constantFrom(null, MACHINE),
})
type File = typeof file extends fc.Arbitrary<infer T> ? T : never

const NAMES = ['Pump pressure [bar]', 'Line flow [L/min]', 'Motor current [A]']

function textOf({ dialect, values, rows, surprises, ending }: File): { head: string; body: string } {
  const { delimiter, newline, whole, remark, trailing, start } = dialect
  const mark = delimiter === ',' ? '.' : dialect.mark
  const [timeNames, write] = TIMES[dialect.time]
  const dress = delimiter === ' ' && dialect.dress !== 'sparse' ? 'bare' : dialect.dress
  const dressed = (cell: string): string => {
    if (dress === 'quoted') return `"${cell}"`
    return dress === 'padded' ? `  ${cell} ` : cell
  }
  const between = (cells: readonly string[]): string =>
    cells.map(dressed).join(delimiter) + (trailing ? delimiter : '')
  const ahead = (cells: readonly string[], word: string): string[] => {
    if (dialect.first === 'word') return [word, ...cells]
    return dialect.first === 'number'
      ? [cells[timeNames.length], ...cells.toSpliced(timeNames.length, 1)]
      : [...cells]
  }
  const units = dress === 'units' ? NAMES.map((name) => name.replace(/ \[.*/, '')) : NAMES
  const names = ahead([...timeNames, ...units, ...(remark ? ['Remark'] : []), 'Oil [°C]'], 'State')
  const header = between(delimiter === ' ' ? names.map((name) => name.replaceAll(' ', '_')) : names)
  const cellsOf = (i: number, at: Date): string[] => {
    const numbers = [0, 1, 2, 3].map((c) => {
      const text = values[(i * 5 + c * 3) % values.length]
      if (dress === 'sparse' && c === 1 && i % 5 > 0) return ''
      const cell = whole ? String(Math.round(Number(text))) : text.replace('.', mark)
      return dress === 'units' && c < 3 ? `${cell} ${['bar', 'L/min', 'A'][c]}` : cell
    })
    const time = write(at, mark).map((cell) => (delimiter === ' ' ? cell.replaceAll(' ', 'T') : cell))
    return ahead([...time, ...numbers.slice(0, 3), ...(remark ? [`r${i % 7}`] : []), numbers[3]], 'RUN')
  }
  const at = (i: number): Date => new Date(start + i * STEP_MS)
  const lines = Array.from({ length: HEAD_ROWS + rows }, (_, i) => between(cellsOf(i, at(i))) + newline)
  for (const { row, change } of surprises) {
    const i = HEAD_ROWS + (row % rows)
    lines[i] = changed(lines[i], {
      i,
      change,
      cells: cellsOf(i, at(i)),
      header,
      between,
      newline,
      write,
      at,
      mark,
    })
  }
  let body = lines.slice(HEAD_ROWS).join('')
  if (ending === 'none') body = body.replace(/[\r\n]+$/, '')
  if (ending === 'cut') body = body.slice(0, -newline.length - 2)
  if (ending === 'padding') body += '\0'.repeat(40)
  return { head: header + newline + lines.slice(0, HEAD_ROWS).join(''), body }
}

interface Place {
  readonly i: number
  readonly change: File['surprises'][number]['change']
  readonly cells: readonly string[]
  readonly header: string
  readonly between: (cells: readonly string[]) => string
  readonly newline: string
  readonly write: Write
  readonly at: (i: number) => Date
  readonly mark: string
}

function changed(
  line: string,
  { i, change, cells, header, between, newline, write, at, mark }: Place,
): string {
  if (typeof change === 'object') {
    return between(cells.map((cell, c) => (c === change.cell % cells.length ? change.text : cell))) + newline
  }
  const bare = line.replace(/[\r\n]+$/, '')
  const moved = (by: number): string => {
    const [before, time] = [write(at(i), mark), write(at(i + by), mark)]
    return between(cells.map((cell) => time[before.indexOf(cell)] ?? cell)) + newline
  }
  switch (change) {
    case 'blank':
      return newline + line
    case 'header':
      return header + newline + line
    case 'short':
      return between(cells.slice(0, -1)) + newline
    case 'long':
      return between([...cells, '5']) + newline
    case 'twice':
      return line + line
    case 'swap':
      return moved(3)
    case 'note':
      return `power restored${newline}${line}`
    case 'no time':
      return between(['??', ...cells.slice(1)]) + newline
    case 'crs':
      return `${bare}\r\r\n`
    case 'lf':
      return `${bare}\n`
    case 'crlf':
      return `${bare}\r\n`
    case 'cr':
      return `${bare}\r${line}`
    case 'lines':
      return between([...cells.slice(0, -1), '"two\nlines"']) + newline
    case 'open quote':
      return between([...cells.slice(0, -1), '"oops']) + newline
    case 'bom':
      return `\ufeff${line}`
    case 'bytes':
      return `${bare}\u00e9\u2028${newline}`
    case 'jump':
      return moved(4000)
    case 'day':
      return moved(-((24 * 3600 * 1000) / STEP_MS))
    case 'empty':
      return between(cells.map((cell, c) => (c === 0 ? cell : ''))) + newline
    case 'padded':
      return `  ${line}`
    case 'zone':
      return between([`${cells[0]}+01:00`, ...cells.slice(1)]) + newline
    default:
      return bare.slice(0, bare.length / 2)
  }
}

/** The file's bytes, with a preamble that leaves the head sample no more than the rows it needs. */
function bytesOf(made: File): Uint8Array {
  const { head, body } = textOf(made)
  const { bom, encoding } = made.dialect
  const encode = (text: string) => Buffer.from(text, encoding as BufferEncoding)
  const start = encode(`${bom && encoding !== 'latin1' ? '\ufeff' : ''}Logger 7\n`)
  const table = encode(head)
  const filled = HEAD_BYTES - start.length - table.length
  const line = `${'x'.repeat(7999)}\n`
  const fill = encode(line.repeat(40).slice(-filled / (encoding === 'utf16le' ? 2 : 1)))
  return Buffer.concat([start, fill, table, Buffer.from(body, encoding as BufferEncoding)])
}

type Outcome =
  | { readonly error: unknown }
  | { readonly report: unknown; readonly trace: unknown; readonly bits: string[] }

const bitsOf = (values: Float64Array): string =>
  Buffer.from(values.buffer, values.byteOffset, values.byteLength).toString('base64')

function outcomeOf({ report, trace }: ReadLog): Outcome {
  const { timeS, holdS, channels, ...rest } = traceInFull(trace)
  const bits = [timeS, holdS, ...channels.map((channel) => channel.values)].map(bitsOf)
  return { report, trace: { ...rest, channels: channels.map(({ values: _, ...channel }) => channel) }, bits }
}

async function* inChunksAfterHead(bytes: Uint8Array, chunk: number): AsyncGenerator<Uint8Array> {
  yield bytes.subarray(0, HEAD_BYTES)
  yield* inChunks(bytes.subarray(HEAD_BYTES), chunk)
}

async function read(bytes: Uint8Array, { chunk, machine }: File): Promise<Outcome> {
  const options = { fileName: 'log.csv', machine, timeZone: 'Europe/Vienna' }
  try {
    return outcomeOf(await readLog(inChunksAfterHead(bytes, chunk), options))
  } catch (error) {
    if (!(error instanceof TankwardError)) throw error
    return { error: { code: error.code, values: error.values } }
  }
}

afterEach(() => {
  vi.restoreAllMocks()
})

it('rows read as bytes are the rows read as text, to the last bit', async () => {
  const take = vi.spyOn(RegularRows.prototype, 'take')
  let rows = 0
  let taken = 0
  await fc.assert(
    fc.asyncProperty(file, async (made) => {
      const bytes = bytesOf(made)
      take.mockClear()
      const byBytes = await read(bytes, made)
      rows += made.rows
      for (const { value } of take.mock.results) taken += value.count
      const of = vi.spyOn(RegularRows, 'of').mockReturnValue(null)
      const byText = await read(bytes, made)
      of.mockRestore()
      expect(byBytes).toEqual(byText)
    }),
    { numRuns: 200 },
  )
  // With chunks of a few bytes no line is whole: those files are read as text throughout.
  expect(taken / rows).toBeGreaterThan(0.25)
}, 120_000)
