import type { ImportErrorCode } from '@/lib/import/codes'
import type { Dictionary, Say } from '../dictionary'

const found: Say = (said) => said.part('found', (text) => `, found “${text}”`)
const columns: Say = (said) => said.part('columns', (names) => ` The file’s columns: ${names}.`)

/** A file of another kind than a text table. */
const notTable = (kind: string, whatToDo: string) => ({
  title: `This is ${kind}, not a log`,
  detail: () => `Expected a text table (CSV), found ${kind}. ${whatToDo}`,
})

const EXPORT = 'Export the recording from the logger’s software as CSV or text.'

export const importErrors: Pick<Dictionary['errors'], ImportErrorCode> = {
  'file-empty': {
    title: 'The file is empty',
    detail: () => 'Expected a table of readings, found nothing. Export it again and check its size.',
  },
  'file-binary': notTable('a binary file', EXPORT),
  'file-image': notTable('a picture', EXPORT),
  'file-pdf': notTable('a PDF', EXPORT),
  'file-html': notTable('a web page', 'Download the file itself instead of saving the page around it.'),
  'file-spreadsheet': notTable(
    'a spreadsheet in a format that is not read, or locked by a password',
    'Save it as a workbook (.xlsx) without a password, or the sheet as CSV, and take that file.',
  ),
  'file-archive': notTable('an archive', 'Unpack it and take the CSV inside; .csv.gz can stay packed.'),
  'file-gzip': notTable('a packed file inside a packed file', 'Unpack it once and try again.'),
  'file-json': notTable('a JSON file', `${EXPORT} A machine file belongs to the machine’s set-up page.`),
  'file-xml': notTable('an XML file', EXPORT),
  'file-without-table': {
    title: 'No table found in the file',
    detail: (said) =>
      `Expected lines of a time and readings, separated by comma, semicolon or tab${found(said)}. ${EXPORT}`,
  },
  'file-header-only': {
    title: 'The file has a header but no rows',
    detail: (said) => `Expected rows of readings below the header${found(said)}. Was the recording started?`,
  },
  'line-too-long': {
    title: 'A line is too long',
    detail: (said) =>
      `Expected at most ${said.value('limit')} characters a line. The file is damaged or no table; export it again.`,
  },
  'too-many-columns': {
    title: 'Too many columns',
    detail: (said) =>
      `Expected at most ${said.value('limit')} columns, found ${said.count}. Export only the channels that are needed.`,
  },
  'columns-differ-from-header': {
    title: 'The rows do not fit the header',
    detail: (said) =>
      `The header names ${said.part('expected', (n) => n) || 'another number of'} columns, the rows have ${said.part('actual', (n) => n) || 'others'}. Often a decimal comma in a file separated by commas: export with semicolons.`,
  },
  'time-column-not-found': {
    title: 'No time column found',
    detail: (said) =>
      `Expected a column of dates, times or elapsed seconds that rises.${columns(said)} Export the time with the readings.`,
  },
  'time-zone-unknown': {
    title: 'Unknown time zone',
    detail: (said) =>
      `“${said.value('timeZone')}” is no time zone. Name it as Continent/City, such as Europe/Vienna.`,
  },
  'channel-column-not-found': {
    title: 'A declared column is not in the file',
    detail: (said) =>
      `The machine’s data name a column that the file does not have.${columns(said)} Correct one of the two.`,
  },
  'channel-column-twice': {
    title: 'A column is declared twice',
    detail: (said) => `The machine’s data use the same column for two channels.${columns(said)} Remove one.`,
  },
  'channel-unit-mismatch': {
    title: 'The unit does not fit the quantity',
    detail: (said) =>
      `The machine’s data give ${said.value('quantity')} in ${said.value('unit')}. Correct the unit or the quantity.`,
  },
  'channel-unit-unknown': {
    title: 'The unit of a column is not known',
    detail: (said) =>
      `Found ${said.part('unit', (unit) => `“${unit}”`) || 'no unit'}. Declare the column’s unit in the machine’s data.`,
  },
  'signal-never-in-span': {
    title: 'The pump pressure holds no reading',
    detail: (said) =>
      `Expected a raw signal from ${said.value('lowest')} to ${said.value('highest')}, as its “scale” says; not one reading lies there, the first is ${said.value('reading')}. Check the scale (A or mA, raw or already in bar), the column and the wire.`,
  },
  'no-usable-channel': {
    title: 'No column could be understood',
    detail: (said) =>
      `Expected at least one of pressure, flow, current or power with its unit in the header.${columns(said)} Map the columns on the set-up page or in the machine’s data.`,
  },
  'no-usable-rows': {
    title: 'Not one row could be used',
    detail: (said) =>
      `Every row was rejected${said.part('rows', (n) => ` (${n} read)`)}${found(said)}. Check time format and columns.`,
  },
  'no-files': {
    title: 'No log given',
    detail: () => 'Expected at least one file. Name one or drop one on the page.',
  },
  'files-without-date': {
    title: 'Several logs without a date cannot be joined',
    detail: () =>
      'Nothing says which comes first or how long after. Import them one by one, or export with dates.',
  },
}
