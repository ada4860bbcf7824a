import type { OtherErrorCode } from '../codes'
import type { Dictionary, Say } from '../dictionary'

const RETRY = 'Import the file again; if it happens again, tell whoever runs this installation.'

/** The first fault of a JSON file, and how many there are or why it cannot be read at all. */
const faultsOf: Say = (said) =>
  `${said.part('place', (place) => `At “${place}”: `)}${said.part('expected', (expected) => `${expected}. `)}${said.part('actual', (actual) => `Faults: ${actual}. `)}`

const stretchOf: Say = (said) => `found ${said.value('startS')} s to ${said.value('endS')} s`

export const otherErrors: Pick<Dictionary['errors'], OtherErrorCode> = {
  'needs-pump-pressure': {
    title: 'No pump pressure in this log',
    detail: (said) =>
      `Every account starts from the pressure at the pump outlet${said.part('found', (found) => `; found only ${found}`)}. Map a column to “pressure at the pump outlet”, or log it and try again.`,
  },
  'needs-flow-or-model': {
    title: 'Neither flow nor a way to work it out',
    detail: () =>
      'Log a flow (pump outlet, system line or relief return) or electric power or current, or complete the pump’s data.',
  },
  'file-missing': {
    title: 'File not found',
    detail: () => 'Expected a file of this name, found none. Check the path and the spelling.',
  },
  'machine-invalid': {
    title: 'The machine’s data cannot be used',
    detail: (said) => `${faultsOf(said)}Correct the machine’s file or its set-up page.`,
  },
  'site-invalid': {
    title: 'The site’s data cannot be used',
    detail: (said) => `${faultsOf(said)}Correct the site’s file or its page.`,
  },
  'corrections-invalid': {
    title: 'The corrections cannot be used',
    detail: (said) => `${faultsOf(said)}Correct the file of corrections.`,
  },
  'correction-outside': {
    title: 'A correction lies outside of the log',
    detail: (said) =>
      `Correction ${said.value('correction')}: expected a stretch within 0 s and ${said.value('durationS')} s, ${stretchOf(said)}. Change its ends or take it back.`,
  },
  'correction-without-samples': {
    title: 'A correction covers no sample',
    detail: (said) =>
      `Correction ${said.value('correction')}: expected samples between its ends, ${stretchOf(said)}, which lies between two samples or in a gap of this log of ${said.value('durationS')} s. Change its ends or take it back.`,
  },
  'no-samples': {
    title: 'No samples in this log',
    detail: () => 'Not one row could be used. Check that the right file was chosen and how it was exported.',
  },
  'chunk-damaged': {
    title: 'Stored samples are damaged',
    detail: (said) =>
      `A stored piece cannot be read${said.part('expected', (expected) => `: expected ${expected}`)}${said.part('actual', (actual) => `, found ${actual}`)}. Have the log read again from its file.`,
  },
  'samples-missing': {
    title: 'Stored samples are missing',
    detail: (said) =>
      `The store does not hold all samples of this log${said.part('channel', (channel) => ` (channel ${channel})`)}. Have the log read again from its file.`,
  },
  'spreadsheet-damaged': {
    title: 'The spreadsheet cannot be read',
    detail: (said) =>
      `Expected a whole workbook${said.part('part', (part) => `, found a damaged part “${part}”`)}. Open it, save it again as a workbook (.xlsx) or its sheet as CSV, and take that file.`,
  },
  'spreadsheet-too-large': {
    title: 'The spreadsheet unpacks to more than a log can be',
    detail: (said) =>
      `Expected at most ${said.part('mostBytes', (n) => `${n} bytes`) || 'a log'}${said.part('mostRatio', (n) => ` and ${n} times the packed length`)}${said.part('unpackedBytes', (n) => `, found ${n}`)}${said.part('packedBytes', (n) => ` from ${n} packed`)}${said.part('part', (part) => ` in “${part}”`)}. Save the sheet as CSV and take that file.`,
  },
  'spreadsheet-without-table': {
    title: 'No sheet of the spreadsheet holds a recording',
    detail: (said) =>
      `Expected a sheet with rows of a time and readings${said.part('sheets', (names) => `, found the sheets ${names}`)}. Save the sheet with the recording as CSV and take that file.`,
  },
  'gzip-damaged': {
    title: 'The compressed file is damaged',
    detail: () => 'It cannot be unpacked. Compress the CSV again, or send it as it is.',
  },
  'gzip-too-large': {
    title: 'The compressed file unpacks to more than a log can be',
    detail: (said) =>
      `${said.value('packedBytes')} bytes of it already unpack to ${said.value('unpackedBytes')}: expected at most ${said.value('mostRatio')} times the packed length, and at most ${said.value('mostBytes')} bytes. Nothing was stored. Send the logger’s own file, or split the recording.`,
  },
  'unknown-figure': {
    title: 'No such figure',
    detail: (said) =>
      `The result has no figure${said.part('figure', (figure) => ` “${figure}”`)} that could be explained. Name one of those it has, or all${said.part('known', (known) => `: ${known}`)}.`,
  },
  'unknown-machine': {
    title: 'No such machine',
    detail: (said) =>
      `No machine is known as “${said.value('machine')}”. Choose one from the list, or set it up first.`,
  },
  'no-browser': {
    title: 'No PDF: there is no browser on the server',
    detail: () =>
      'Open the page made for print and print it to a PDF, or install Chromium on the server (Debian: apt-get install chromium) or set CHROMIUM_PATH, and make the report again.',
  },
  'nothing-to-report': {
    title: 'Nothing to report of',
    detail: (said) =>
      `Expected an analysed log${said.part('subject', (subject) => ` of “${subject}”`)}, found none. Upload one and make the report again.`,
  },
  'report-failed': {
    title: 'The PDF could not be made',
    detail: (said) =>
      `The browser on the server gave up${said.part('reason', (reason) => `: ${reason}`)}. Make the report again, or print its page.`,
  },
  'report-page-failed': {
    title: 'The PDF could not be made',
    detail: (said) =>
      `The page to print was not answered${said.part('path', (path) => `: ${path}`)}${said.part('status', (status) => `, status ${status}`)}. Make the report again, or print its page.`,
  },
  'import-undone': {
    title: 'The import was taken back',
    detail: () => `The log was deleted or imported otherwise in the meantime; nothing was stored. ${RETRY}`,
  },
  interrupted: {
    title: 'The import was interrupted',
    detail: () => `The server stopped while it worked; nothing was stored. ${RETRY}`,
  },
  'disk-full': {
    title: 'The server’s disk is full',
    detail: () => `Nothing was stored, and what was there before is intact. Free some space. ${RETRY}`,
  },
  'database-lost': {
    title: 'The database could not be reached',
    detail: () =>
      `It went away while the log was being imported. Nothing of the log was stored, and what was there before is intact. ${RETRY}`,
  },
  'out-of-memory': {
    title: 'The recording is too long for this server’s memory',
    detail: () =>
      'A recording is held in memory while it is analysed. Nothing of it was stored, and what was there before is intact. Cut the file into shorter recordings, such as one a day, or run the server with more memory.',
  },
  internal: {
    title: 'A fault in the tool',
    detail: () => `Nothing was stored. ${RETRY}`,
  },
}
