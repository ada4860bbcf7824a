import type { Recording } from './sensors'

/** How a logger writes its file: none is a real product's format. */
export type Habit = 'comma-iso' | 'semicolon-comma' | 'tab-us' | 'split-columns' | 'elapsed-seconds'

/** Local wall-clock time of the first row, without zone, as the logger's own clock shows it. */
export type WallClock = `${number}-${number}-${number}T${number}:${number}:${number}`

interface Dialect {
  readonly delimiter: string
  readonly lost: string
  readonly preamble: readonly string[]
  readonly timeHeads: readonly string[]
  readonly timeCells: (at: Date, elapsedS: number, fine: boolean) => string
  readonly decimalComma: boolean
}

const two = (value: number) => String(value).padStart(2, '0')
const millis = (at: Date) => String(at.getUTCMilliseconds()).padStart(3, '0')
const clock = (at: Date) => `${two(at.getUTCHours())}:${two(at.getUTCMinutes())}:${two(at.getUTCSeconds())}`
const isoDay = (at: Date) => `${at.getUTCFullYear()}-${two(at.getUTCMonth() + 1)}-${two(at.getUTCDate())}`

function twelveHours(at: Date, fine: boolean): string {
  const hour = at.getUTCHours()
  const rest = `${two(at.getUTCMinutes())}:${two(at.getUTCSeconds())}${fine ? `.${millis(at)}` : ''}`
  return `${hour % 12 === 0 ? 12 : hour % 12}:${rest} ${hour < 12 ? 'AM' : 'PM'}`
}

const DIALECTS: Readonly<Record<Habit, Dialect>> = {
  'comma-iso': {
    delimiter: ',',
    lost: '',
    preamble: [],
    timeHeads: ['Time'],
    timeCells: (at, _elapsed, fine) => `${isoDay(at)}T${clock(at)}${fine ? `.${millis(at)}` : ''}`,
    decimalComma: false,
  },
  'semicolon-comma': {
    delimiter: ';',
    lost: '---',
    preamble: ['Datenlogger (erfunden);Kanalliste siehe Kopfzeile', 'Messstelle;Aggregat', ''],
    timeHeads: ['Datum/Uhrzeit'],
    timeCells: (at, _elapsed, fine) => {
      const day = `${two(at.getUTCDate())}.${two(at.getUTCMonth() + 1)}.${at.getUTCFullYear()}`
      return `${day} ${clock(at)}${fine ? `,${millis(at)}` : ''}`
    },
    decimalComma: true,
  },
  'tab-us': {
    delimiter: '\t',
    lost: '--',
    preamble: [],
    timeHeads: ['Date/Time'],
    timeCells: (at, _elapsed, fine) =>
      `${at.getUTCMonth() + 1}/${at.getUTCDate()}/${at.getUTCFullYear()} ${twelveHours(at, fine)}`,
    decimalComma: false,
  },
  'split-columns': {
    delimiter: ',',
    lost: 'NaN',
    preamble: [],
    timeHeads: ['Date', 'Time'],
    timeCells: (at, _elapsed, fine) => `${isoDay(at)},${clock(at)}${fine ? `.${millis(at)}` : ''}`,
    decimalComma: false,
  },
  'elapsed-seconds': {
    delimiter: ',',
    lost: '',
    preamble: [],
    timeHeads: ['Elapsed [s]'],
    timeCells: (_at, elapsedS) => elapsedS.toFixed(3),
    decimalComma: false,
  },
}

/** The recording as the logger's file. `startedAt` is local wall-clock time; the file names no zone. */
export function writeCsv(recording: Recording, habit: Habit, startedAt: WallClock): string {
  const dialect = DIALECTS[habit]
  const startMs = Date.parse(`${startedAt}Z`)
  const lines: string[] = [...dialect.preamble]
  lines.push(
    [...dialect.timeHeads, ...recording.columns.map(({ sensor }) => sensor.column)].join(dialect.delimiter),
  )
  const fine = recording.timeS.length > 1 && recording.timeS[1] - recording.timeS[0] < 1
  recording.timeS.forEach((elapsedS, row) => {
    let line = dialect.timeCells(new Date(startMs + Math.round(elapsedS * 1000)), elapsedS, fine)
    for (const { sensor, values } of recording.columns) {
      const value = values[row]
      const cell = Number.isNaN(value) ? dialect.lost : value.toFixed(sensor.decimals)
      line += dialect.delimiter + (dialect.decimalComma ? cell.replace('.', ',') : cell)
    }
    lines.push(line)
  })
  return `${lines.join('\n')}\n`
}
