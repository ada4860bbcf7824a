import { Buffer } from 'node:buffer'
import { deflateRawSync } from 'node:zlib'
import ExcelJS from 'exceljs'
import { describe, expect, it } from 'vitest'
import { cellText, numberText, shownBy } from '@/app/_jobs/spreadsheet/number-formats'
import { withTable } from '@/app/_jobs/with-table'

import type { TankwardError } from '@/lib/errors'
import { readLog } from '@/lib/import/read-log'
import type { ReadLog } from '@/lib/import/report'
import { inFull } from '@/lib/samples/samples'
import { MACHINE } from '../../lib/import/log-text'

// exceljs 4.4 writes the workbooks: a library of others, which knows nothing of how they are read here.

const HEADER = ['Time', 'P1 [bar]', 'Q1 [l/min]', 'I [A]']
const START_MS = Date.UTC(2026, 2, 2, 6)
const rowsOf = (count: number): [number, number, number, number][] =>
  Array.from({ length: count }, (_, i) => [
    START_MS + i * 500,
    Math.round(1000 * (100 + 20 * Math.sin(i / 7))) / 1000,
    40 + (i % 5) / 8,
    20.25 + (i % 3),
  ])
const csvOf = (rows: ReturnType<typeof rowsOf>): string =>
  `${HEADER.join(',')}\n${rows.map(([ms, ...values]) => `${new Date(ms).toISOString().slice(0, -1)},${values.join(',')}`).join('\n')}\n`

type Fill = (book: ExcelJS.Workbook) => void
async function workbook(fill: Fill): Promise<Uint8Array> {
  const book = new ExcelJS.Workbook()
  fill(book)
  return new Uint8Array(await book.xlsx.writeBuffer())
}

function readBytes(bytes: Uint8Array, fileName = 'log.xlsx'): Promise<ReadLog> {
  const pieces = async function* () {
    for (let at = 0; at < bytes.length; at += 1000) yield bytes.subarray(at, at + 1000)
  }
  return withTable(pieces(), fileName, ({ text, spreadsheet }) =>
    readLog(text, { fileName, machine: MACHINE, timeZone: 'UTC', spreadsheet }),
  )
}

const codeOf = (bytes: Uint8Array): Promise<string> =>
  readBytes(bytes).then(
    () => 'read',
    (error: TankwardError) => error.code ?? String(error),
  )

const SERIAL_1970 = 25_569
const serialOf = (ms: number): number => SERIAL_1970 + ms / 86_400_000

const fills: Readonly<Record<string, (sheet: ExcelJS.Worksheet, rows: ReturnType<typeof rowsOf>) => void>> = {
  'date cells': (sheet, rows) => {
    sheet.addRow(HEADER)
    for (const [ms, ...values] of rows) {
      sheet.addRow([new Date(ms), ...values]).getCell(1).numFmt = 'dd.mm.yyyy hh:mm:ss.000'
    }
  },
  'date cells of a built-in format': (sheet, rows) => {
    sheet.addRow(HEADER)
    for (const [ms, ...values] of rows)
      sheet.addRow([new Date(ms), ...values]).getCell(1).numFmt = 'm/d/yy h:mm'
  },
  'times alone shown of dates': (sheet, rows) => {
    sheet.addRow(HEADER)
    for (const [ms, ...values] of rows) sheet.addRow([new Date(ms), ...values]).getCell(1).numFmt = 'mm:ss.0'
  },
  'serial numbers without a format': (sheet, rows) => {
    sheet.addRow(HEADER)
    for (const [ms, ...values] of rows) sheet.addRow([serialOf(ms), ...values])
  },
  texts: (sheet, rows) => {
    sheet.addRow(HEADER)
    for (const [ms, ...values] of rows)
      sheet.addRow([new Date(ms).toISOString(), ...values.map((value) => String(value).replace('.', ','))])
  },
  'formulas with their values': (sheet, rows) => {
    sheet.addRow(HEADER)
    rows.forEach(([ms, pressure, flow, current], i) => {
      sheet.addRow([new Date(ms), { formula: `D${i + 2}*4`, result: pressure }, flow, current])
    })
  },
  'lines of text in one column': (sheet, rows) => {
    for (const line of csvOf(rows).trim().split('\n')) sheet.addRow([line])
  },
  'a preamble, empty rows and a column before': (sheet, rows) => {
    sheet.addRow([])
    sheet.addRow(['', 'Recorder', 7])
    sheet.addRow([])
    sheet.addRow(['', ...HEADER])
    for (const [ms, ...values] of rows) sheet.addRow(['', new Date(ms), ...values])
  },
}

describe('a spreadsheet', () => {
  const rows = rowsOf(400)
  it.each(Object.keys(fills))('of %s reads as its text does', async (name) => {
    const log = await readBytes(await workbook((book) => fills[name](book.addWorksheet('Data 1'), rows)))
    const twin = await readBytes(new TextEncoder().encode(csvOf(rows)), 'log.csv')
    expect(log.report.spreadsheet).toEqual({ sheet: 'Data 1', others: [] })
    expect(twin.report.spreadsheet).toBeUndefined()
    expect(log.trace.startedAtMs).toBe(START_MS)
    const twinS = inFull(twin.trace.timeS)
    inFull(log.trace.timeS).forEach((time, i) => {
      // A serial number of a day of our time tells about a microsecond.
      expect(Math.abs(time - twinS[i])).toBeLessThan(1e-3)
    })
    expect(log.trace.channels).toEqual(twin.trace.channels)
    expect(log.report).toMatchObject({ rowsRead: 400, rowsUsed: 400, rowsRejected: 0 })
    const found = ({ report }: ReadLog) => report.problems.map(({ line: _, ...rest }) => rest)
    expect(found(log)).toEqual(found(twin))
  })
  it('of days counted from 1904', async () => {
    const bytes = await workbook((book) => {
      book.properties.date1904 = true
      fills['date cells'](book.addWorksheet('Data'), rows)
    })
    expect((await readBytes(bytes)).trace.startedAtMs).toBe(START_MS)
  })
  it('is known by its bytes, whatever its name says', async () => {
    const bytes = await workbook((book) => fills['date cells'](book.addWorksheet('Data'), rows))
    expect((await readBytes(bytes, 'log.csv')).report.rowsUsed).toBe(400)
  })
  it('is read where its recording is, and other recordings are named', async () => {
    const bytes = await workbook((book) => {
      const about = book.addWorksheet('About')
      about.addRow(['Serial number', 4711])
      about.addRow(['Rate', '10 Hz'])
      about.addRow(['Technician', 'A. B.'])
      book.addWorksheet('Empty')
      fills['date cells'](book.addWorksheet('Old', { state: 'hidden' }), rowsOf(20))
      fills['date cells'](book.addWorksheet('Shift'), rows)
      fills['date cells'](book.addWorksheet('Night'), rowsOf(20))
    })
    const log = await readBytes(bytes)
    expect(log.report.spreadsheet).toEqual({ sheet: 'Shift', others: ['Night', 'Old'] })
    expect(log.report.rowsRead).toBe(400)
    expect(log.report.problems).toContainEqual(
      expect.objectContaining({
        code: 'other-sheets-unused',
        count: 2,
        values: { sheet: 'Shift', others: 'Night | Old' },
      }),
    )
  })
  it('says what is missing and where, by the sheet’s own rows', async () => {
    const bytes = await workbook((book) => {
      const sheet = book.addWorksheet('Data')
      fills['date cells'](sheet, rows)
      sheet.getCell('B12').value = { error: '#N/A' } as ExcelJS.CellErrorValue
      sheet.getCell('C13').value = 'broken'
      sheet.getCell('A20').value = 'pause'
    })
    const { report } = await readBytes(bytes)
    expect(report).toMatchObject({ rowsRead: 400, rowsUsed: 399, rowsRejected: 1 })
    const lines = report.problems.map(({ code, column, line }) => [code, column, line])
    expect(lines).toContainEqual(['unreadable-cell', 'P1 [bar]', 12])
    expect(lines).toContainEqual(['unreadable-cell', 'Q1 [l/min]', 13])
    expect(lines).toContainEqual(['row-rejected-time', 'Time', 20])
  })
})

/** A zip file of one part that says of itself what it likes (PKWARE, APPNOTE 4.3). */
function zipOf(name: string, packed: Uint8Array, unpackedBytes: number): Uint8Array {
  const title = Buffer.from(name)
  const common = Buffer.alloc(26)
  common.writeUInt16LE(20, 0)
  common.writeUInt16LE(8, 4)
  common.writeUInt32LE(packed.length, 14)
  common.writeUInt32LE(unpackedBytes, 18)
  common.writeUInt16LE(title.length, 22)
  const local = Buffer.concat([Buffer.from('PK\x03\x04', 'latin1'), common, title, packed])
  const tail = Buffer.alloc(14)
  const central = Buffer.concat([Buffer.from('PK\x01\x02\x14\x00', 'latin1'), common, tail, title])
  const end = Buffer.alloc(18)
  end.writeUInt16LE(1, 4)
  end.writeUInt16LE(1, 6)
  end.writeUInt32LE(central.length, 8)
  end.writeUInt32LE(local.length, 12)
  return new Uint8Array(Buffer.concat([local, central, Buffer.from('PK\x05\x06', 'latin1'), end]))
}

describe('what is no spreadsheet to read', () => {
  it('is refused by what it is', async () => {
    const text = Buffer.from('t,p\n1,2\n')
    expect(await codeOf(zipOf('log.csv', deflateRawSync(text), text.length))).toBe('file-archive')
    expect(await codeOf(zipOf('mimetypeapplication/vnd.oasis', deflateRawSync(text), text.length))).toBe(
      'file-spreadsheet',
    )
    expect(await codeOf(Uint8Array.from([0xd0, 0xcf, 0x11, 0xe0, ...new Array(64).fill(0)]))).toBe(
      'file-spreadsheet',
    )
    const empty = await workbook((book) => book.addWorksheet('Notes').addRow(['Nothing', 'here']))
    expect(await codeOf(empty)).toBe('spreadsheet-without-table')
  })
  it('is refused where it unpacks to more than a log can be, and where it lies about that', async () => {
    const packed = deflateRawSync(Buffer.alloc(64 << 20, 0x20))
    expect(await codeOf(zipOf('xl/workbook.xml', packed, 64 << 20))).toBe('spreadsheet-too-large')
    expect(await codeOf(zipOf('xl/workbook.xml', packed, 1 << 20))).toBe('spreadsheet-damaged')
  })
  it('is refused where it is cut or damaged, never read by half', async () => {
    const whole = await workbook((book) => fills['date cells'](book.addWorksheet('Data'), rowsOf(200)))
    for (let cut = 1; cut < 12; cut++) {
      expect(await codeOf(whole.subarray(0, Math.floor((whole.length * cut) / 12)))).toBe(
        'spreadsheet-damaged',
      )
    }
    const good = (await readBytes(whole)).trace
    let refused = 0
    for (let k = 0; k < 60; k++) {
      const bytes = whole.slice()
      bytes[4 + ((k * 7919) % (bytes.length - 4))] ^= 1 << (k % 8)
      const outcome = await readBytes(bytes).catch((error: TankwardError) => error.code)
      if (typeof outcome === 'string') {
        expect(outcome).toMatch(/^(?:spreadsheet|file)-/)
        refused++
      } else expect(outcome.trace.channels).toEqual(good.channels)
    }
    expect(refused).toBeGreaterThan(10)
  })
})

describe('how a cell’s number is shown', () => {
  it('is told by its format code', () => {
    // ECMA-376 part 1, 18.8.31: letters of dates and times; quoted text, escapes and colours are none.
    const expected: Readonly<Record<string, string>> = {
      General: 'number',
      '0.00': 'number',
      '#,##0.0" days"': 'number',
      '[Red]0.00;[Blue]-0.00': 'number',
      '0.00E+00': 'number',
      'yyyy-mm-dd': 'date',
      'mmm yy': 'date',
      'd/m/yyyy h:mm': 'date-time',
      '[$-409]dd/mm/yyyy hh:mm:ss AM/PM;@': 'date-time',
      'hh:mm:ss.000': 'time',
      'h:mm AM/PM': 'time',
      '[h]:mm:ss': 'duration',
      '[mm]:ss.0': 'duration',
    }
    for (const [code, shown] of Object.entries(expected)) expect([code, shownBy(code)]).toEqual([code, shown])
  })
  it('becomes text that reads one way only', () => {
    // 45000.5 is 2023-03-15 12:00 (a spreadsheet’s own table; common practice).
    expect(cellText(45_000.5, 'date-time', false)).toBe('2023-03-15 12:00:00')
    expect(cellText(45_000.5 - 1462, 'date-time', true)).toBe('2023-03-15 12:00:00')
    expect(cellText(45_000, 'date', false)).toBe('2023-03-15')
    expect(cellText(0.25, 'time', false)).toBe('06:00:00')
    expect(cellText(1.5, 'duration', false)).toBe('36:00:00')
    expect(cellText(0.5 + 0.1 / 86_400, 'time', false)).toBe('12:00:00.1')
    expect(numberText(1.234)).toBe('1.2340')
    expect(numberText(100.30000000000001)).toBe('100.3')
  })
})
