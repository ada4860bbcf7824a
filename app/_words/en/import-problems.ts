import type { ImportProblemCode } from '@/lib/import/codes'
import type { Dictionary, Say } from '../dictionary'
import type { Said } from '../said'

/** What the reader took for granted, what else it could be, and how to say otherwise. */
const assumed =
  (what: string, otherwise: string): Say =>
  (said) =>
    `${what}${said.part('assumed', (value) => `: taken as ${value}`)}${said.part('reading', (value) => ` (${value})`)}${said.part('other', (value) => `; it could also be ${value}`)}${said.part('otherReading', (value) => ` (${value})`)}. ${otherwise}`

const example: Say = (said) => said.part('example', (value) => `, the first one “${value}”`)

/** By how much a logger's clock is off, how sure that is, and whether it kept pace. */
const shift = (said: Said): string =>
  `${said.part('shiftS', (s) => ` by ${s} s`)}${said.part('doubtS', (s) => (s === '0' ? '' : ` ± ${s} s`))}${said.part('startShiftS', (s) => `, ${s} s at the start`)}${said.part('endShiftS', (s) => ` and ${s} s at the end: one clock gains on the other`)}${said.part('correlation', (r) => (r === '0' ? '' : `, where their changes go together best (correlation ${r})`))}`

const ofFile = (said: Said): string => said.part('file', (name) => ` of ${name}`)

const inUnit: Say = (said) =>
  said.part('likely', (unit) => ` Read in ${unit} they would fit: is that the unit?`)
const withUnit =
  (name: string): Say =>
  (said) =>
    `${said.value(name)}${said.part('unit', (unit) => ` ${unit}`)}`
const about = withUnit('reading')
const expected = withUnit('expected')

/** What a ratio between a reading and what it should be may come from. */
const cause: Say = (said) =>
  said.part('ratio', (ratio) =>
    ratio.includes('√3')
      ? ` Times ${ratio} it would fit: is the clamp on a leg inside a delta, or are values of a phase taken for values of the line?`
      : ` Times ${ratio} it would fit: is that the ratio of the current transformer, the range of the clamp or how often the conductor passes through it?`,
  )

/** What can be answered of a file, by its name in a reading. */
const QUESTIONS: Readonly<Record<string, string>> = {
  dayOrder: 'the order of day and month',
  decimalMark: 'the decimal mark',
  timeUnit: 'the unit of the time column',
  timeZone: 'the time zone',
  startedAt: 'the start of the recording',
}

/** A number of cells of one kind, not worth a word where there are none. */
const some = (said: Said, name: string, kind: string): string =>
  said.part(name, (n) => (n === '0' ? '' : `; ${n} ${kind}`))

export const importProblems: Pick<Dictionary['problems'], ImportProblemCode> = {
  'unreadable-cell': (said) =>
    `${said.things('cell holds', 'cells hold')} no reading${example(said)}${some(said, 'empty', 'empty')}${some(said, 'marked', 'marked as missing or out of range')}${some(said, 'unreadable', 'unreadable')}. They count as missing, never as zero.`,
  'row-rejected-time': (said) =>
    `${said.things('row was', 'rows were')} left out because the time cannot be right or cannot be read${said.part('found', (time) => `, the first one ${time}`)}${example(said)}.`,
  'row-rejected-empty': (said) =>
    `${said.things('row was', 'rows were')} left out because none of the mapped columns holds a reading.`,
  'row-rejected-columns': (said) =>
    `${said.things('row was', 'rows were')} left out because the number of columns is not the header’s${said.part('expected', (n) => `: expected ${n}`)}${said.part('actual', (n) => `, found ${n}`)}.`,
  'duplicate-row': (said) =>
    `${said.things('row repeats', 'rows repeat')} an earlier one; only the first was used.`,
  'repeated-header': (said) =>
    `The header stands again ${said.things('time', 'times')} between the rows and was passed over.`,
  'rows-out-of-order': (said) => `${said.things('row was', 'rows were')} put back in order of time.`,
  'rows-reversed': () => 'The file runs from the newest row to the oldest; it was turned round.',
  'clock-set-back': (said) =>
    `The logger’s clock was set back ${said.things('time', 'times')} within the log${said.part('seconds', (s) => `, by ${s} s`)}. The rows were kept in the file’s order; check the times there.`,
  'clock-set-forward': (said) =>
    `The logger’s clock was put right ${said.things('time', 'times')} after it had been set back${said.part('seconds', (s) => `, by ${s} s`)}. The times from there on are its own again.`,
  'clock-unset': (said) =>
    `The logger’s clock was not set for the first ${said.things('row', 'rows')}; they were moved${said.part('seconds', (s) => ` by ${s} s`)} up to the row that follows, as if no time had passed between.`,
  'midnight-same-day': (said) =>
    `${said.things('row after midnight carries', 'rows after midnight carry')} the date of the day before; the day was counted on.`,
  'shared-stamps-spread': (said) =>
    `${said.things('row shares its time stamp with another', 'rows share their time stamp with others')}; they were spread evenly${said.part('stepS', (s) => `, ${s} s apart`)}${said.part('resolutionS', (s) => `, as the stamps count by ${s} s`)}.`,
  'dst-autumn-repeat': (said) =>
    `The logger’s clock was put back with the autumn clock change${said.part('timeZone', (zone) => ` in ${zone}`)}; the hour that comes twice was counted twice, in the file’s order.`,
  'dst-spring-skip': (said) =>
    `The logger’s clock was put forward with the spring clock change${said.part('timeZone', (zone) => ` in ${zone}`)}; the hour it skips is no gap in the log.`,
  'clock-ignores-dst': (said) =>
    `The logger’s clock did not follow the change between summer and winter time${said.part('timeZone', (zone) => ` in ${zone}`)}; its times were kept as they run on.`,
  'hour-lost': (said) =>
    `${said.things('time has', 'times have')} lost the hour${example(said)}; it was counted on from the rows before.`,
  'slower-channel': (said) =>
    `This channel was logged less often than the others${said.part('intervalS', (s) => `, every ${s} s`)}${said.part('rowsPerValue', (n) => `, once in ${n} rows`)}; a reading holds until the quicker channels show the change to the next one${said.part('changes', (n) => ` (${n} changes)`)}, without a clear one until half way.`,
  'other-sheets-unused': (said) =>
    `The file is a spreadsheet: the recording of ${said.part('sheet', (name) => `sheet “${name}”`) || 'one sheet'} was read; ${said.things('more sheet holds', 'more sheets hold')} one too${said.part('others', (names) => `: ${names}`)}. Save each as a file of its own if they are wanted.`,
  'stuck-sensor': (said) =>
    `The reading stands still for ${said.things('sample', 'samples')}${said.part('startS', (s) => ` from ${s} s on`)} while others move${said.part('value', (value) => ` (at ${value} as logged)`)}. Is the sensor connected, its range exceeded?`,
  'signal-not-binary': (said) =>
    `The signal has other values than 0 and 1${example(said)} and was left out. Log it as on and off.`,
  'signal-out-of-span': (said) =>
    `${said.things('reading lies', 'readings lie')} outside what a sound transmitter sends${said.part('lowest', (low) => ` (${low}`)}${said.part('highest', (high) => ` to ${high} of the raw signal)`)}${said.part('reading', (reading) => `, the first one ${reading}`)}${some(said, 'below', 'below')}${some(said, 'above', 'above')}. They count as missing: a broken wire or a dead transmitter, not a reading. Check wire, supply and transmitter, and that the column holds the raw signal (“scale”).`,
  'raw-signal-needs-scale': (said) =>
    `This column holds a raw signal${said.part('unit', (unit) => ` in ${unit}`)}${said.part('quantity', (quantity) => ` for ${quantity}`)} and was left out: say which readings its ends stand for (“scale”).`,
  'channel-not-numeric': (said) =>
    `This column’s name speaks of${said.part('quantity', (quantity) => ` ${quantity}`)}, but its cells hold no numbers${example(said)}; it was left out. Export the readings as numbers, without text around them.`,
  'extra-phase-unused': (said) =>
    `Another phase of the same supply${said.part('quantity', (quantity) => ` (${quantity})`)}${said.part('location', (place) => ` at ${place}`)} was not used${said.part('used', (column) => `; the account uses “${column}”`)}. Check that the phases are balanced.`,
  'extra-channel-unused': (said) =>
    `A second channel${said.part('quantity', (quantity) => ` of ${quantity}`)}${said.part('location', (place) => ` at ${place}`)} was not used${said.part('used', (column) => `; the account uses “${column}”`)}. Name its place if it measures elsewhere.`,
  'unit-differs-from-header': (said) =>
    `The machine’s data say ${said.value('declared')}, the header says ${said.value('header')}; the machine’s data were followed.`,
  'implausible-range': (said) =>
    `The readings reach ${said.value('high')}${said.part('unit', (unit) => ` ${unit}`)}${said.part('nameplate', (rated) => `, the machine’s data speak of ${rated}`)}${said.part('unit', (unit) => ` ${unit}`)}${said.percent('share', (share) => (share === '0 %' ? '' : `; ${share} of the samples lie far above`))}.${inUnit(said)}${cause(said)} Check unit, scale, sensor range and column.`,
  'current-off-power': (said) =>
    `The current reads ${about(said)}; at the power that${said.part('beside', (column) => ` “${column}”`)} shows the motor would take about ${expected(said)}.${cause(said)} One of the two is wrong: check leg, ratio and range of both. No figure was changed.`,
  'load-off-pressure': (said) =>
    `At the pressures of${said.part('beside', (column) => ` “${column}”`)} the pump asks its motor for about ${expected(said)}; the reading is ${about(said)}.${cause(said)} Check leg, ratio and range, the pressure’s unit and the plates of motor and pump. No figure was changed.`,
  'pressure-below-load': (said) =>
    `While the motor is well loaded by${said.part('beside', (column) => ` “${column}”`)} the pump’s pressure reads no more than ${said.value('high')}${said.part('unit', (unit) => ` ${unit}`)}: a fixed pump loads its motor by pressure alone.${inUnit(said)} Check the pressure’s unit, scale and place, and what else the motor drives. No figure was changed.`,
  'pressure-off-zero-at-rest': (said) =>
    `While the motor stands the pump’s pressure reads ${said.part('reading', (value) => value) || 'something'}${said.part('unit', (unit) => ` ${unit}`)} and not nil, in ${said.things('sample', 'samples')}. A steady offset is taken off in the account; check the sensor’s zero, or whether pressure is held there.`,
  'answer-not-used': (said) =>
    `What was answered before${said.part('question', (name) => ` for ${QUESTIONS[name] ?? name}`)}${said.part('answered', (value) => ` (${value})`)} was not used: the file itself says otherwise${said.part('found', (value) => ` (${value})`)}.`,
  'assumed-day-order': assumed(
    'The dates can be read day first or month first',
    'Choose the order on the upload page if it is the other one.',
  ),
  'assumed-decimal-mark': assumed(
    'The decimal mark cannot be told for certain',
    'Choose it on the upload page if it is the other one.',
  ),
  'assumed-time-unit': assumed(
    'The unit of the time column is not written',
    'Write it in the header, as in “Time [s]”.',
  ),
  'assumed-dst': assumed(
    'Whether the logger’s clock follows summer time is not written',
    'Say so in the log’s settings if it is otherwise.',
  ),
  'assumed-quantity': assumed(
    'What this column measures was guessed',
    'Map the column on the set-up page if it is something else.',
  ),
  'assumed-unit': assumed(
    'The unit is not written in the header',
    'Name the unit on the set-up page if it is another.',
  ),
  'assumed-location': assumed(
    'Where the sensor sits is not written in the header',
    'Name the place on the set-up page if it is another: it decides what the reading means.',
  ),
  'assumed-us-gallons': assumed(
    '“gpm” was read as US gallons a minute',
    'Declare another unit if the logger counts imperial gallons.',
  ),
  'assumed-columns-in-order': (said) =>
    `The file has no header; the declared columns were taken in the order of the machine’s data${said.part('columns', (columns) => `: ${columns}`)}.`,
  'assumed-file-order': assumed(
    'The files carry no date that orders them',
    'Name them in order of time if the order is another.',
  ),
  'assumed-clock-shift': (said) =>
    `The clocks of two loggers are apart: the times${ofFile(said)} were shifted${shift(said)}. They could also be right as stamped${said.part('otherShiftsS', (list) => `, or be shifted by ${list} s, as the machine’s cycles are alike`)}. Compare the changes of both on the upload page and say which is right.`,
  'clock-shifted': (said) =>
    `The times${ofFile(said)} were shifted${shift(said)}, as a person said${said.part('otherShiftsS', (list) => `; ${list} s would fit as well`)}.`,
  'clocks-not-compared': (said) =>
    `Nothing in the readings tells whether the clock${ofFile(said)} agrees with the other logger’s; the times were taken as stamped. Log one signal with both, or switch the motor once while both run.`,
  'rows-outside-other-logger': (said) =>
    `${said.things('row', 'rows')}${ofFile(said)} lie before or after what the quicker logger recorded; they have no place in the joined record.`,
  'overlapping-rows': (said) =>
    `${said.things('row lies', 'rows lie')} in a time that another file covers already; the first file’s rows were used.`,
  'file-repeated': (said) =>
    `${said.part('repeats', (name) => `This file says the same as ${name}. `)}The same recording was given more than once and used once.`,
  'channel-absent-in-file': () => 'This channel is missing in one of the files; it counts as missing there.',
}
