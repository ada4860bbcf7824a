import fc from 'fast-check'
import Papa from 'papaparse'
import { afterAll, expect, it } from 'vitest'
import { TankwardError } from '@/lib/errors'
import { IMPORT_ERROR_CODES, IMPORT_PROBLEM_CODES } from '@/lib/import/codes'
import type { FullLog } from '@/lib/import/report'
import { surveyLog } from '@/lib/import/survey'
import { fromSi, toSi } from '@/lib/units'
import { sampleBytes, sampleMachine } from '../../app/sample-files'
import { watchForHangs } from './hang-watch'
import { inChunks, readBytes, utf8 } from './log-text'

// Five thousand files, generated and damaged: whatever comes, it is read or refused by name, soon, and no number is kept
// that the file does not hold. The reference for numbers is papaparse with `Number` on the same bytes.

const GENERATED = 2000
const DAMAGED = 2500
const RANDOM = 500
/** CPU time, so that a busy computer fails no file. */
const LONGEST_S = 2

/** Of a file that never ends, however busy the computer. */
const HANGS_MS = 60_000
const hangs = watchForHangs(HANGS_MS)

let files = 0
const tally = new Map<string, number>()
afterAll(async () => {
  await hangs.stop()
  console.log(
    `${files} files: `,
    [...tally]
      .sort((a, b) => b[1] - a[1])
      .map(([code, count]) => `${code} ${count}`)
      .join(', '),
  )
})

/** Reads or refuses; null where refused. */
async function read(
  bytes: Uint8Array,
  options: Parameters<typeof readBytes>[1] = {},
): Promise<FullLog | null> {
  files++
  const began = process.cpuUsage()
  let log: FullLog | null = null
  let code = 'read'
  for (const attempt of [
    () => surveyLog(inChunks(bytes, options.chunk), 'log.csv'),
    async () => {
      log = await readBytes(bytes, { timeZone: 'Europe/Vienna', ...options })
    },
  ]) {
    hangs.turn()
    try {
      await attempt()
    } catch (error) {
      if (!(error instanceof TankwardError)) throw error
      expect(IMPORT_ERROR_CODES).toContain(error.code)
      code = error.code
    } finally {
      hangs.turn()
    }
  }
  tally.set(code, (tally.get(code) ?? 0) + 1)
  expect(process.cpuUsage(began).user / 1e6).toBeLessThan(LONGEST_S)
  return log
}

function soundReport({ report, trace }: FullLog): void {
  expect(report.rowsUsed + report.rowsRejected).toBe(report.rowsRead)
  expect(trace.timeS).toHaveLength(report.rowsUsed)
  for (let i = 1; i < trace.timeS.length; i++) expect(trace.timeS[i]).toBeGreaterThan(trace.timeS[i - 1])
  for (const { values } of trace.channels) expect(values).toHaveLength(report.rowsUsed)
  for (const { code, count } of report.problems) {
    expect(IMPORT_PROBLEM_CODES).toContain(code)
    expect(count).toBeGreaterThan(0)
  }
}

const pad = (value: number, digits = 2): string => String(value).padStart(digits, '0')
const STAMPS: Readonly<Record<string, (at: Date) => string>> = {
  iso: (at) => at.toISOString().slice(0, 23),
  zoned: (at) => at.toISOString(),
  european: (at) =>
    `${pad(at.getUTCDate())}.${pad(at.getUTCMonth() + 1)}.${at.getUTCFullYear()} ${at.toISOString().slice(11, 19)}`,
  american: (at) =>
    `${at.getUTCMonth() + 1}/${at.getUTCDate()}/${at.getUTCFullYear()} ${at.getUTCHours() % 12 || 12}:${at.toISOString().slice(14, 19)} ${at.getUTCHours() < 12 ? 'AM' : 'PM'}`,
  epoch: (at) => String(at.getTime()),
}
const CHANNELS = [
  ['Pump pressure', 'bar'],
  ['Line flow', 'L/min'],
  ['Motor current', 'A'],
] as const

const reading = fc.oneof(
  { weight: 6, arbitrary: fc.double({ min: -5, max: 300, noNaN: true }).map((value) => value.toFixed(2)) },
  { weight: 2, arbitrary: fc.integer({ min: 0, max: 900 }).map((value) => String(value / 8)) },
  { weight: 1, arbitrary: fc.integer({ min: -9, max: 500 }).map(String) },
  { weight: 1, arbitrary: fc.constantFrom('', '-', 'OL', 'n/a', '1.5e1', '+4.25') },
)
const generated = fc.record({
  delimiter: fc.constantFrom(';', ',', '\t', '|'),
  mark: fc.constantFrom('.', ','),
  stamp: fc.constantFrom(...Object.keys(STAMPS)),
  newline: fc.constantFrom('\n', '\r\n', '\r'),
  quoted: fc.constantFrom('none', 'none', 'all', 'values'),
  padded: fc.boolean(),
  above: fc.array(fc.constantFrom('Logger;7;1.5', 'Site: hall 3', '', 'a,b,c', 'Limit|5|9'), {
    maxLength: 4,
  }),
  width: fc.integer({ min: 1, max: 3 }),
  trailing: fc.boolean(),
  encoding: fc.constantFrom('utf8', 'utf16le', 'latin1'),
  values: fc.array(reading, { minLength: 24, maxLength: 40 }),
  chunk: fc.integer({ min: 20, max: 4000 }),
})

it('generated files: every number kept is the one that papaparse and Number read, and every other cell is counted', async () => {
  await fc.assert(
    fc.asyncProperty(generated, async (made) => {
      const { delimiter, newline, width, quoted, padded, trailing } = made
      const mark = delimiter === ',' && quoted === 'none' ? '.' : made.mark
      const dress = (cell: string, column: number): string => {
        if (quoted === 'all' || (quoted === 'values' && column > 0)) return `"${cell}"`
        return padded ? ` ${cell} ` : cell
      }
      const lineOf = (cells: readonly string[]) =>
        cells.map(dress).join(delimiter) + (trailing ? delimiter : '')
      const channels = CHANNELS.slice(0, width)
      const rows = made.values.map((value, i) => {
        const at = new Date(Date.UTC(2026, 2, 22, 6) + i * 1000)
        const cells = channels.map((_, c) => made.values[(i * 7 + c * 11) % made.values.length])
        // A row of numbers of its own, so that no two are one row written twice.
        return [STAMPS[made.stamp](at), ...cells.with(0, c0(value, i)).map((cell) => cell.replace('.', mark))]
      })
      const header = lineOf(['Time', ...channels.map(([name, unit]) => `${name} [${unit}]`)])
      const text = [...made.above, header, ...rows.map(lineOf)].join(newline) + newline
      const bytes = Buffer.from(
        `${made.encoding === 'utf16le' ? '\ufeff' : ''}${text}`,
        made.encoding as BufferEncoding,
      )
      const log = await read(bytes, { chunk: made.chunk })
      if (log === null) expect.fail(`refused: ${JSON.stringify(text.slice(0, 400))}`)
      soundReport(log)
      expect(log.report.rowsUsed).toBe(rows.length)

      const table = Papa.parse<string[]>(text.slice(text.indexOf(header)), { delimiter, newline }).data.slice(
        1,
        rows.length + 1,
      )
      const numberOf = (cell: string): number =>
        cell.trim() === '' ? Number.NaN : Number(cell.trim().replace(mark, '.'))
      channels.forEach(([name, unit], c) => {
        const expected = table.map((row) => toSi(numberOf(row[c + 1]), unit) + 0)
        const channel = log.trace.channels.find(({ column }) => column === `${name} [${unit}]`)
        const missing = expected.filter(Number.isNaN).length
        if (channel === undefined) expect(missing).toBe(expected.length)
        else {
          // Where most cells of a column are empty at regular distances, readings hold in between and are named so.
          const isHeld = log.report.problems.some(
            (p) => p.code === 'slower-channel' && p.column === channel.column,
          )
          const kept = Array.from(channel.values, (value, i) =>
            isHeld && Number.isNaN(expected[i]) ? Number.NaN : value + 0,
          )
          expect(kept).toEqual(expected)
          if (isHeld) return
        }
        const faults = log.report.problems.find(
          (p) => p.code === 'unreadable-cell' && p.column === `${name} [${unit}]`,
        )
        expect(faults?.count ?? 0).toBe(missing)
      })
    }),
    { numRuns: GENERATED },
  )
}, 120_000)

/** The first channel always has a number, with decimals that tell the mark. */
function c0(value: string, i: number): string {
  return /^-?\d+\.\d\d$/.test(value) ? value : `${100 + i}.25`
}

const NAMES = [
  'baler-line-flow',
  'shear-pump-flow',
  'press-all-sensors',
  'fixtures-vented',
  'test-stand-weekend',
] as const
const HEADS = NAMES.map((name) => {
  const lines = sampleBytes(`${name}.csv`).toString('latin1').split('\n').slice(0, 45)
  return { name, bytes: Buffer.from(`${lines.join('\n')}\n`, 'latin1') }
})

const damage = fc.record({
  kind: fc.constantFrom(
    'flip',
    'set',
    'cut',
    'insert',
    'double',
    'swap',
    'drop',
    'end',
    'join',
    'separator',
    'repeat',
  ),
  at: fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }),
  to: fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }),
  byte: fc.oneof(fc.nat(255), fc.constantFrom(...utf8('\r\n\t;,."\'-+:0129eE |/'))),
  length: fc.integer({ min: 1, max: 120 }),
})
type Damage = typeof damage extends fc.Arbitrary<infer T> ? T : never

function damaged(bytes: Buffer, { kind, at, to, byte, length }: Damage): Buffer {
  const i = Math.floor(at * bytes.length)
  const lines = (): string[] => bytes.toString('latin1').split('\n')
  const back = (all: readonly string[]): Buffer => Buffer.from(all.join('\n'), 'latin1')
  const [a, b] = [at, to].map((share) => Math.floor(share * lines().length))
  switch (kind) {
    case 'flip':
      return Buffer.concat([
        bytes.subarray(0, i),
        Buffer.of((bytes[i] ?? 0) ^ (1 << (byte % 8))),
        bytes.subarray(i + 1),
      ])
    case 'set':
      return Buffer.concat([bytes.subarray(0, i), Buffer.of(byte), bytes.subarray(i + 1)])
    case 'cut':
      return Buffer.concat([bytes.subarray(0, i), bytes.subarray(i + length)])
    case 'insert':
      return Buffer.concat([bytes.subarray(0, i), Buffer.alloc((length % 4) + 1, byte), bytes.subarray(i)])
    case 'double':
      return back(lines().toSpliced(a, 0, lines()[a] ?? ''))
    case 'swap':
      return back(lines().with(a, lines()[b]).with(b, lines()[a]))
    case 'drop':
      return back(lines().toSpliced(a, (length % 5) + 1))
    case 'end':
      return bytes.subarray(0, i)
    case 'join':
      return Buffer.concat([bytes, HEADS[Math.floor(to * HEADS.length)].bytes])
    case 'repeat':
      return Buffer.concat([bytes.subarray(0, i + length), bytes.subarray(i)])
    default:
      return back(
        lines().map((line, k) => (k < a ? line : line.replaceAll(/[;,\t]/g, String.fromCharCode(byte)))),
      )
  }
}

/** Every number that the column's cells could be, whichever row they stand in; Number is asked, never the reader. */
function numbersIn(text: string, { report }: FullLog, column: number): Set<number> {
  const { delimiter, decimalMark } = report.dialect
  const grouping = decimalMark === '.' ? /(?<=\d)[,'’\s](?=\d{3})/g : /(?<=\d)[.'’\s](?=\d{3})/g
  const cells = new Set<string>()
  for (const line of text.split(/\r\n|\n|\r/)) {
    const split = (of: string) => (delimiter === ' ' ? of.trim().split(/\s+/) : of.split(delimiter))
    if (line.includes('"')) {
      cells.add(Papa.parse<string[]>(line, { delimiter, newline: '\n' }).data[0]?.[column] ?? '')
      cells.add(split(line.replaceAll('"', ''))[column] ?? '')
    } else cells.add(split(line)[column] ?? '')
  }
  const found = new Set<number>()
  for (const cell of cells) {
    const bare = cell.trim().replace(/^[−–]/, '-')
    for (const way of [bare, bare.replaceAll(grouping, '')]) {
      found.add(Number(way.replace(decimalMark, '.').replace(/\s*[A-Za-z°/]+$/, '')))
    }
  }
  return found
}

it('damaged files: read or refused by name, and no number that the file does not hold', async () => {
  let kept = 0
  await fc.assert(
    fc.asyncProperty(
      fc.nat(HEADS.length - 1),
      fc.array(damage, { minLength: 1, maxLength: 4 }),
      fc.boolean(),
      fc.integer({ min: 20, max: 5000 }),
      async (of, damages, isDeclared, chunk) => {
        const bytes = damages.reduce(damaged, HEADS[of].bytes)
        const machine = isDeclared ? sampleMachine(HEADS[of].name) : null
        const log = await read(bytes, { machine, chunk })
        if (log === null) return
        kept++
        soundReport(log)
        const text = new TextDecoder(log.report.dialect.encoding).decode(bytes)
        const { headerLine } = log.report.dialect
        for (const { column, unit, quantity, values } of log.trace.channels) {
          const scale = log.report.channels.find((known) => known.column === column)?.scale
          if (headerLine === null || scale !== undefined || quantity === 'signal') continue
          const at = columnOf(text, log, column)
          if (at < 0) continue
          const held: ReadonlySet<number> = new Set(
            Array.from(numbersIn(text, log, at), (number) => toSi(number, unit)),
          )
          for (const value of new Set(values)) {
            if (!Number.isNaN(value) && !held.has(value)) {
              expect.fail(`${column}: ${fromSi(value, unit)} ${unit} stands in no cell of\n${text}`)
            }
          }
        }
      },
    ),
    { numRuns: DAMAGED },
  )
  expect(kept).toBeGreaterThan(DAMAGED * 0.4)
}, 180_000)

/** Place of a column in the header line, where its name stands there once and as it is. */
function columnOf(text: string, { report }: FullLog, column: string): number {
  const line = text.split(/\r\n|\n|\r/)[(report.dialect.headerLine ?? 0) - 1] ?? ''
  const cells = line.split(report.dialect.delimiter).map((cell) => cell.replace(/\s+/g, ' ').trim())
  return cells.indexOf(column) === cells.lastIndexOf(column) ? cells.indexOf(column) : -1
}

it('random files: refused by name or read, soon', async () => {
  const text = fc.string({ unit: fc.constantFrom(...'0123456789.,;:\t\n\r -/TAPM"bar[]|'), maxLength: 400 })
  const bytes = fc.oneof(fc.uint8Array({ maxLength: 600 }), text.map(utf8))
  await fc.assert(
    fc.asyncProperty(bytes, fc.integer({ min: 1, max: 300 }), async (content, chunk) => {
      const log = await read(content, { chunk })
      if (log !== null) soundReport(log)
    }),
    { numRuns: RANDOM },
  )
})

const LONG = 20_000
const PIECES = [
  ...'1 ( [ - / a " : 0 T é + . # , | ; _ \t'.split(' '),
  ...[
    '1.',
    '1,',
    '1 ',
    '( ',
    'a ',
    'a_',
    '" ',
    '1:',
    '1/',
    '1-1-',
    '1e',
    '1.000',
    "1'",
    '12:12:12 ',
    '2026-01-01 ',
    'rate 1 ',
  ],
]
const SOUND = Array.from({ length: 30 }, (_, i) => `2026-03-22T06:00:${pad(i)};${100 + i}.5;${20 + i}.25`)
const TITLES = 'Time;Pump pressure [bar];Motor current [A]'
const PLACES: Readonly<Record<string, (long: string) => string>> = {
  'above the table': (long) => [`Start, rate ${long}`, TITLES, ...SOUND].join('\n'),
  'as a name': (long) => [`${TITLES};${long}`, ...SOUND.map((row) => `${row};1`)].join('\n'),
  'as a quoted name': (long) =>
    [`${TITLES};"${long.replaceAll('"', '')}"`, ...SOUND.map((row) => `${row};1`)].join('\n'),
  'as a reading': (long) => [TITLES, ...SOUND.with(12, `2026-03-22T06:00:12;${long};1`)].join('\n'),
  'as a time': (long) => [TITLES, ...SOUND.with(12, `${long};1;1`)].join('\n'),
  alone: (long) => long,
}

// Patterns that try every way to read a text take minutes over a long one: a header of 1,500 brackets once took 24 s.
it.each(Object.entries(PLACES))('a long run of anything %s is over soon', async (_, place) => {
  for (const piece of PIECES) {
    const log = await read(utf8(place(piece.repeat(LONG / piece.length))), { chunk: 65_536 })
    if (log !== null) soundReport(log)
  }
})
