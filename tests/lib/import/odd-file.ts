import fc from 'fast-check'
import type { Location, Quantity } from '@/lib/contract/machine'
import type { Answers } from '@/lib/contract/reading'
import { type Random, seededRandom } from '@/lib/numeric/random'

// A recording whose samples are known, written as loggers may write it, with oddities mixed as they come. That such forms
// occur is common practice, no source. Wall clocks come from Intl (the time zone database of the runtime), never from lib.

interface Kind {
  readonly quantity: Quantity
  readonly location: Location
  /** What a logger calls it in English, German, French, Spanish and Italian. */
  readonly names: readonly string[]
  /** Units as they are written: SI value of one, least and largest reading, decimals. */
  readonly units: readonly (readonly [
    text: string,
    si: number,
    least: number,
    most: number,
    decimals: number,
  ])[]
}

// Conversions by hand: 1 bar = 10⁵ Pa, 1 psi = 6894.757293168 Pa, 1 L/min = 10⁻³/60 m³/s, 1 US gal = 3.785411784 L (exact).
const PRESSURES = [
  ['bar', 1e5, 8, 240, 1],
  ['bar', 1e5, 8, 240, 2],
  ['MPa', 1e6, 0.8, 24, 3],
  ['kPa', 1e3, 800, 24_000, 0],
  ['kPa', 1e3, 800, 24_000, 1],
  ['psi', 6894.757293168, 120, 3400, 1],
] as const
const KINDS: readonly Kind[] = [
  {
    quantity: 'pressure',
    location: 'pump-outlet',
    names: ['Pump pressure', 'Pumpendruck', 'Pression pompe', 'Presión bomba', 'Pressione pompa'],
    units: PRESSURES,
  },
  {
    quantity: 'flow',
    location: 'system-line',
    names: ['Line flow', 'Volumenstrom Leitung', 'Débit ligne', 'Caudal línea', 'Portata linea'],
    units: [
      ['L/min', 1e-3 / 60, 4, 180, 2],
      ['l/min', 1e-3 / 60, 4, 180, 1],
      ['m³/h', 1 / 3600, 0.2, 11, 3],
      ['US gpm', 3.785411784e-3 / 60, 1, 48, 2],
    ],
  },
  {
    quantity: 'current',
    location: 'motor-supply',
    names: ['Motor current', 'Motorstrom', 'Courant moteur', 'Corriente motor', 'Corrente motore'],
    units: [
      ['A', 1, 12, 80, 2],
      ['A', 1, 12, 80, 1],
    ],
  },
  {
    quantity: 'pressure',
    location: 'load',
    names: ['Cylinder pressure', 'Zylinderdruck', 'Pression vérin', 'Presión cilindro', 'Pressione cilindro'],
    units: PRESSURES,
  },
  {
    quantity: 'power',
    location: 'motor-supply',
    names: ['Motor power', 'Motorleistung', 'Puissance moteur', 'Potencia motor', 'Potenza motore'],
    units: [
      ['kW', 1e3, 3, 44, 3],
      ['kW', 1e3, 3, 44, 2],
      ['W', 1, 3000, 44_000, 0],
    ],
  },
  {
    quantity: 'temperature',
    location: 'oil',
    names: ['Oil temperature', 'Öltemperatur', 'Température huile', 'Temperatura aceite', 'Temperatura olio'],
    units: [['°C', 1, 32, 68, 1]],
  },
]

const TIME_NAMES = ['Time', 'Zeit', 'Temps', 'Fecha', 'Data ora']
const CLOCK_NAMES = ['Time of day', 'Uhrzeit', 'Heure', 'Hora', 'Ora']
const DATE_NAMES = ['Date', 'Datum', 'Date', 'Fecha', 'Data']
const ZONE = 'Europe/Vienna'

const two = (n: number, digits = 2): string => String(n).padStart(digits, '0')

/** The clock on the wall at an instant, its fields as if they were UTC. */
const wall = new Intl.DateTimeFormat('en-GB', {
  timeZone: ZONE,
  hourCycle: 'h23',
  year: 'numeric',
  month: '2-digit',
  day: '2-digit',
  hour: '2-digit',
  minute: '2-digit',
  second: '2-digit',
})
function wallClock(atMs: number): Date {
  const of = new Map(wall.formatToParts(atMs).map(({ type, value }) => [type, Number(value)]))
  const field = (name: Intl.DateTimeFormatPartTypes) => of.get(name) ?? 0
  const day = Date.UTC(field('year'), field('month') - 1, field('day'))
  return new Date(
    day + ((field('hour') * 60 + field('minute')) * 60 + field('second')) * 1000 + (atMs % 1000),
  )
}

type Stamp = (at: Date, startMs: number, atMs: number, fraction: number) => readonly string[]
const clock = (at: Date, fraction: number) =>
  `${at.toISOString().slice(11, 19)}${fraction > 0 ? `.${two(at.getUTCMilliseconds(), 3).slice(0, fraction)}` : ''}`
const day = (at: Date, by: string) =>
  [two(at.getUTCDate()), two(at.getUTCMonth() + 1), at.getUTCFullYear()].join(by)

interface Form {
  readonly cells: Stamp
  /** Whether the stamp is the wall clock's, and its day and month may be taken for each other. */
  readonly isLocal?: boolean
  readonly order?: 'day-first' | 'month-first'
  /** What the file knows of its start: all, the time of day, nothing; or it stands above the table. */
  readonly start?: 'clock-only' | 'none' | 'above'
  /** Heads of its columns, where they are not simply called time. */
  readonly heads?: (language: number) => readonly string[]
}

const FORMS = {
  iso: { isLocal: true, cells: (at, _s, _a, f) => [`${at.toISOString().slice(0, 10)}T${clock(at, f)}`] },
  'iso, blank': {
    isLocal: true,
    cells: (at, _s, _a, f) => [`${at.toISOString().slice(0, 10)} ${clock(at, f)}`],
  },
  zoned: {
    cells: (_, _s, atMs, f) => [`${new Date(atMs).toISOString().slice(0, 10)}T${clock(new Date(atMs), f)}Z`],
  },
  'day first': {
    isLocal: true,
    order: 'day-first',
    cells: (at, _s, _a, f) => [`${day(at, '.')} ${clock(at, f)}`],
  },
  'day first, /': {
    isLocal: true,
    order: 'day-first',
    cells: (at, _s, _a, f) => [`${day(at, '/')} ${clock(at, f)}`],
  },
  '12 h': {
    isLocal: true,
    order: 'month-first',
    cells: (at, _s, _a, f) => [
      `${at.getUTCMonth() + 1}/${at.getUTCDate()}/${at.getUTCFullYear()} ${at.getUTCHours() % 12 || 12}${clock(at, f).slice(2)} ${at.getUTCHours() < 12 ? 'AM' : 'PM'}`,
    ],
  },
  'two columns': {
    isLocal: true,
    order: 'day-first',
    cells: (at, _s, _a, f) => [day(at, '.'), clock(at, f)],
    heads: (language) => [DATE_NAMES[language], CLOCK_NAMES[language]],
  },
  'epoch s': { cells: (_, _s, atMs, f) => [(atMs / 1000).toFixed(f)] },
  'epoch ms': { cells: (_, _s, atMs) => [String(atMs)] },
  serial: { isLocal: true, cells: (at) => [(25_569 + at.getTime() / 86_400_000).toFixed(10)] },
  'elapsed s': {
    start: 'none',
    cells: (_, s, a, f) => [((a - s) / 1000).toFixed(f)],
    heads: () => ['t [s]'],
  },
  'elapsed ms': { start: 'none', cells: (_, s, a) => [String(a - s)], heads: () => ['Time [ms]'] },
  'elapsed s, start above': {
    start: 'above',
    cells: (_, s, a, f) => [((a - s) / 1000).toFixed(f)],
    heads: () => ['Elapsed [s]'],
  },
  'time of day': { start: 'clock-only', isLocal: true, cells: (at, _s, _a, f) => [clock(at, f)] },
  'time of day, date above': { start: 'above', isLocal: true, cells: (at, _s, _a, f) => [clock(at, f)] },
} as const satisfies Readonly<Record<string, Form>>
const formOf = (name: keyof typeof FORMS): Form => FORMS[name]

/** Instants at which recordings begin, ms: usual days, days that read two ways, midnights, both changes of the clock. */
const STARTS = [
  '2026-03-22T05:14:07Z',
  '2026-04-03T11:59:50Z',
  '2026-11-12T22:59:40Z',
  '2025-12-31T22:59:55Z',
  '2026-03-29T00:59:45Z',
  '2026-10-25T00:59:45Z',
  '2024-02-29T09:30:00Z',
].map((text) => Date.parse(text))
const MARKS = ['', '-', '--', 'NaN', '####', 'OL', '+OL', 'Over', 'Err', 'Inf', '-9999', '32767', 'n/a']
const ABOVE = [
  'Logger;7;1.5',
  'Site: hall 3',
  '',
  'Serial no;4711',
  'Channels;3',
  'Firmware 2.3.1',
  '# comment',
]

const recipe = fc.record({
  seed: fc.nat(),
  rows: fc.integer({ min: 30, max: 70 }),
  stepMs: fc.constantFrom(1000, 1000, 100, 250, 500, 2000, 10_000, 60_000),
  start: fc.constantFrom(...STARTS),
  language: fc.nat(4),
  kinds: fc.subarray([0, 1, 2, 3, 4, 5], { minLength: 1, maxLength: 5 }),
  form: fc.constantFrom(...(Object.keys(FORMS) as (keyof typeof FORMS)[])),
  delimiter: fc.constantFrom(';', ';', ',', '\t', '|', ' '),
  mark: fc.constantFrom('.', ','),
  thousands: fc.constantFrom('', '', '', "'", '\u00a0', 'other'),
  units: fc.constantFrom('[]', '()', ',', 'row', 'cells', 'absent', '_'),
  header: fc.constantFrom(true, true, true, true, true, true, true, true, true, false),
  quoted: fc.constantFrom('none', 'none', 'all', 'text'),
  encoding: fc.constantFrom('utf-8', 'utf-8', 'utf-8, mark', 'utf-16le', 'utf-16be', 'windows-1252'),
  newline: fc.constantFrom('\n', '\r\n', '\r'),
  isClosed: fc.boolean(),
  above: fc.array(fc.constantFrom(...ABOVE), { maxLength: 12 }),
  trailing: fc.integer({ min: 0, max: 2 }),
  missing: fc.constantFrom(null, ...MARKS),
  stranger: fc.constantFrom(null, null, 'remark', 'count', 'limit'),
  restart: fc.constantFrom(null, null, null, 'header', 'header and lines above', 'blank line'),
  order: fc.constantFrom('as recorded', 'as recorded', 'as recorded', 'twice', 'swapped', 'newest first'),
  damage: fc.constantFrom(null, null, null, 'time', 'cut'),
  slower: fc.constantFrom(0, 0, 0, 0, 4, 10),
  chunk: fc.integer({ min: 40, max: 4000 }),
})
export type Recipe = typeof recipe extends fc.Arbitrary<infer T> ? T : never
export const recipes: fc.Arbitrary<Recipe> = recipe

export interface TrueColumn {
  /** Its head as it stands in the file, its place where there is none; a unit that stands elsewhere may follow. */
  readonly name: string
  readonly quantity: Quantity
  readonly location: Location
  /** SI value of each sample that a row holds; NaN where the row holds none. */
  readonly values: readonly number[]
  /** It is logged every so many rows; 1: in all. */
  readonly everyRows: number
  readonly saysUnit: boolean
}

export interface OddFile {
  readonly bytes: Uint8Array
  /** What the file says, for whoever looks at a failure. */
  readonly text: string
  /** Elapsed s of the samples that readable rows hold, in the order of time. */
  readonly timeS: readonly number[]
  readonly startMs: number
  /** Whether the wall clock was changed during the recording and no day tells that it was. */
  readonly clockChangeIsOpen: boolean
  readonly columns: readonly TrueColumn[]
  /** Rows that hold readings, those written twice and damaged ones among them. */
  readonly rowsWritten: number
  /** What a person who knows the logger says where he is asked. */
  readonly answers: Answers
  readonly timeZone: string
}

/** A number with its decimal mark and groups of thousands. */
function written(whole: number, decimals: number, mark: string, group: string): string {
  const [ones, tenths] = (whole / 10 ** decimals).toFixed(decimals).split('.')
  const grouped = group === '' ? ones : ones.replace(/\B(?=(?:\d{3})+$)/g, group)
  return tenths === undefined ? grouped : `${grouped}${mark}${tenths}`
}

/** Readings of a machine that strokes and waits: whole numbers of the last decimal, no two neighbours alike. */
function readings(random: Random, count: number, least: number, most: number, decimals: number): number[] {
  const power = 10 ** decimals
  let before = Number.NaN
  const cycle = 8 + Math.floor(random() * 9)
  return Array.from({ length: count }, (_, i) => {
    const level = i % cycle < cycle / 2 ? 0.25 : 0.8
    let whole = Math.round((least + (most - least) * (level + 0.15 * (random() - 0.5))) * power)
    if (whole === before) whole++
    before = whole
    return whole
  })
}

function encoded(text: string, encoding: Recipe['encoding']): Uint8Array {
  switch (encoding) {
    case 'utf-8':
      return Buffer.from(text, 'utf8')
    case 'utf-8, mark':
      return Buffer.from(`\ufeff${text}`, 'utf8')
    case 'utf-16le':
      return Buffer.from(`\ufeff${text}`, 'utf16le')
    case 'utf-16be':
      return Buffer.from(`\ufeff${text}`, 'utf16le').swap16()
    default:
      // Latin-1 and Windows-1252 are one for all letters used here.
      return Buffer.from(text, 'latin1')
  }
}

/** What a recipe leaves to be: forms that no logger could read itself are brought to ones that exist. */
function sensible(raw: Recipe): Recipe {
  const isBlank = raw.delimiter === ' '
  const form =
    isBlank &&
    (raw.form === 'iso, blank' ||
      raw.form === 'day first' ||
      raw.form === 'day first, /' ||
      raw.form === '12 h')
      ? 'iso'
      : raw.form
  const { start } = formOf(form)
  const quoted = isBlank ? 'none' : raw.quoted
  // Among readings of so many W or kPa it is a reading.
  const missing =
    raw.missing === '32767' &&
    raw.kinds.some((index) => KINDS[index].units.some(([, , , most]) => most > 20_000))
      ? '-32768'
      : raw.missing
  return {
    ...raw,
    form,
    quoted,
    // Between commas a decimal comma stands in quotation marks.
    mark: raw.delimiter === ',' && quoted !== 'all' ? '.' : raw.mark,
    // Between commas groups by commas stand in quotation marks, and nobody groups by points.
    thousands:
      (isBlank && raw.thousands === '\u00a0') ||
      (raw.thousands === 'other' && raw.delimiter === ',' && (quoted !== 'all' || raw.mark === ','))
        ? ''
        : raw.thousands,
    units: isBlank ? '_' : raw.units === ',' && raw.delimiter === ',' && quoted === 'none' ? '[]' : raw.units,
    missing: isBlank && missing === '' ? '-' : missing,
    trailing: isBlank ? 0 : raw.trailing,
    header: raw.header || raw.units === 'row',
    above: isBlank ? [] : raw.above,
    stranger: isBlank || !raw.header ? null : raw.stranger,
    slower: raw.missing === null && !isBlank ? raw.slower : 0,
    // Rows without a date cannot be put in order.
    order: start === undefined ? raw.order : 'as recorded',
    restart: isBlank ? null : raw.restart,
  }
}

/** The file of a recipe and what is true of it. */
export function oddFile(raw: Recipe): OddFile {
  const made = sensible(raw)
  const { delimiter, mark, quoted, language, rows, stepMs, start: startMs } = made
  const random = seededRandom(made.seed)
  const form = formOf(made.form)
  const group = made.thousands === 'other' ? (mark === '.' ? ',' : '.') : made.thousands
  const fraction = stepMs % 1000 === 0 ? 0 : stepMs % 100 === 0 ? 1 : 2
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]
  const isAscii = (text: string) => text.normalize('NFD').replace(/\p{M}/gu, '')
  const isBlank = delimiter === ' '
  // A row without any reading is no sample: of each row one column at most has none.
  const goneAt = Array.from({ length: rows }, (_, i) =>
    made.missing !== null && i > 2 && made.kinds.length > 1 && random() < 0.15
      ? Math.floor(random() * made.kinds.length)
      : -1,
  )
  const sensors = made.kinds.map((index, place) => {
    const kind = KINDS[index]
    const [unit, si, least, most, decimals] = pick(kind.units)
    const name = isBlank ? isAscii(kind.names[language]).replaceAll(' ', '_') : kind.names[language]
    const unitText = isBlank ? unit.replace('°', '').replace('³', '3').replace('US ', '') : unit
    const head =
      made.units === '[]'
        ? `${name} [${unitText}]`
        : made.units === '()'
          ? `${name} (${unitText})`
          : made.units === ','
            ? `${name}, ${unitText}`
            : made.units === '_'
              ? `${name}_${unitText.replace('/', '_').replace(' ', '')}`
              : name
    const everyRows = place > 0 && place === made.kinds.length - 1 && made.slower > 0 ? made.slower : 1
    const wholes = readings(random, rows, least, most, decimals)
    const isGone = goneAt.map((gone, i) => (everyRows > 1 ? i % everyRows !== 0 : gone === place))
    const cells = wholes.map((whole, i) => {
      if (isGone[i]) return everyRows > 1 ? '' : (made.missing ?? '')
      return written(whole, decimals, mark, group) + (made.units === 'cells' ? ` ${unitText}` : '')
    })
    const values = wholes.map((whole, i) => (isGone[i] ? Number.NaN : (whole / 10 ** decimals) * si))
    return { kind, head, name, unitText, cells, values, everyRows }
  })

  const dress = (cell: string, isNumber: boolean): string => {
    const must = cell.includes(delimiter) && !isBlank
    return quoted === 'all' || must || (quoted === 'text' && !isNumber) ? `"${cell}"` : cell
  }
  const line = (time: readonly string[], cells: readonly string[], areNumbers: boolean, stranger: string) =>
    [
      ...time.map((cell) => dress(cell, false)),
      ...cells.map((cell) => dress(cell, areNumbers)),
      ...(made.stranger === null ? [] : [dress(stranger, made.stranger !== 'remark')]),
      ...Array<string>(made.trailing).fill(''),
    ].join(delimiter)
  const strangerHead = { remark: 'Remark', count: 'No', limit: 'Alarm limit [bar]' }
  const strangerCell = (i: number) =>
    made.stranger === 'remark'
      ? pick(['', 'ok', 'door open'])
      : made.stranger === 'count'
        ? String(i + 1)
        : '250'
  const timeHeads = form.heads?.(language) ?? [TIME_NAMES[language]]
  const heads = timeHeads.map((head) => (isBlank ? head.replaceAll(' ', '_') : head))
  const head = line(
    heads,
    sensors.map((s) => s.head),
    false,
    made.stranger === null ? '' : strangerHead[made.stranger],
  )
  const unitRow = line(
    heads.map(() => ''),
    sensors.map((s) => s.unitText),
    false,
    '',
  )
  const headLines = made.header ? [head, ...(made.units === 'row' ? [unitRow] : [])] : []
  const begun = wallClock(startMs)
  const above = [
    ...made.above.map((text) => text.replaceAll(';', delimiter)),
    ...(form.start === 'above' ? [`Start: ${day(begun, '.')} ${clock(begun, fraction)}`, ''] : []),
  ]
  const rowAt = (i: number): string => {
    const atMs = startMs + i * stepMs
    const at = form.isLocal ? wallClock(atMs) : new Date(atMs)
    const cells = form.cells(at, startMs, atMs, fraction).map((cell) => {
      // A count of seconds has the decimal mark of the readings.
      return /^-?\d+\.\d+$/.test(cell) ? cell.replace('.', mark) : cell
    })
    return line(
      cells,
      sensors.map((s) => s.cells[i]),
      true,
      strangerCell(i),
    )
  }

  const places = Array.from({ length: rows }, (_, i) => i)
  const half = Math.floor(rows / 2)
  if (made.order === 'newest first') places.reverse()
  if (made.order === 'swapped') [places[half], places[half + 1]] = [places[half + 1], places[half]]
  const lost = made.damage === null ? null : half - 5
  const body: string[] = []
  let rowsWritten = 0
  for (const [at, i] of places.entries()) {
    if (at === half && made.restart !== null) {
      if (made.restart === 'blank line') body.push('')
      else if (made.restart === 'header') body.push(...headLines)
      else body.push('', ...above, ...headLines)
    }
    let text = rowAt(i)
    if (i === lost && made.damage === 'time')
      text = text.replace(/^[^;,\t| ]*/, quoted === 'none' ? '######' : '"######"')
    body.push(text)
    rowsWritten++
    if (made.order === 'twice' && (i === 7 || i === half + 3)) {
      body.push(text)
      rowsWritten++
    }
  }
  if (made.damage === 'cut') {
    // The logger lost its supply within its last row.
    const last = body[body.length - 1]
    body[body.length - 1] = last.slice(0, Math.max(1, last.indexOf(delimiter) >> 1))
  }
  const isKept = (i: number) =>
    made.damage === 'cut' ? i !== places[places.length - 1] : !(made.damage === 'time' && i === lost)
  const kept = places.filter(isKept).sort((a, b) => a - b)
  const text = [...above, ...headLines, ...body].join(made.newline) + (made.isClosed ? made.newline : '')
  const first = kept[0]
  const endMs = startMs + rows * stepMs
  const clockText = begun.toISOString().slice(0, 19)
  return {
    bytes: encoded(text, made.encoding),
    text,
    timeS: kept.map((i) => ((i - first) * stepMs) / 1000),
    startMs: startMs + first * stepMs,
    clockChangeIsOpen:
      form.start === 'clock-only' && wallClock(endMs).getTime() - begun.getTime() !== endMs - startMs,
    columns: sensors.map(({ kind, head, values, everyRows }, place) => ({
      name: made.header ? head : `Column ${heads.length + place + 1}`,
      quantity: kind.quantity,
      location: kind.location,
      values: kept.map((i) => values[i]),
      everyRows,
      saysUnit: made.units !== 'absent',
    })),
    rowsWritten,
    answers: {
      dayOrder: form.order ?? 'day-first',
      decimalMark: mark as '.' | ',',
      timeUnit: made.form === 'elapsed ms' ? 'ms' : 's',
      startedAt: clockText,
    },
    timeZone: ZONE,
  }
}
