import { type CellValue, ValueType, Workbook } from 'exceljs'
import { describe, expect, it } from 'vitest'
import type { Report } from '@/app/_server/reports/report'
import { reportXlsx } from '@/app/_server/reports/xlsx'

const EVIL = '=1+1'
const LONG = 'A title that is far longer than any sheet may be named: [a/b]?'
const columns = [{ header: 'Machine' }, { header: 'Waste', unit: 'kWh', isEstimate: true }]
const report: Report = {
  kind: 'month',
  subject: '2026-09',
  title: EVIL,
  subtitle: '@SUM(A1)',
  sections: [
    { id: 'a', title: '+a', paragraphs: ['-b'], facts: [['=name', '=value']], list: ['=item'] },
    {
      id: 'b',
      title: 'b',
      tables: [
        {
          id: 'x',
          title: LONG,
          columns,
          rows: [[EVIL, { value: -2.5, low: -3, high: 1, basis: 'measured' }]],
        },
        { id: 'y', title: LONG, columns, rows: [['Baler', null]] },
      ],
    },
  ],
}

async function readBack() {
  const book = new Workbook()
  await book.xlsx.load(Buffer.from(await reportXlsx(report)).buffer as ArrayBuffer)
  return book
}

describe('reports as a spreadsheet', () => {
  it('read back, no cell is a formula and texts that look like one are text', async () => {
    const texts: CellValue[] = []
    for (const sheet of (await readBack()).worksheets)
      sheet.eachRow((row) =>
        row.eachCell((cell) => {
          expect(cell.type).not.toBe(ValueType.Formula)
          texts.push(cell.value)
        }),
      )
    expect(texts).toEqual(expect.arrayContaining(["'=1+1", "'@SUM(A1)", "'-b", "'=value", "'=item"]))
  })

  it('numbers are numbers, negative ones too, and what is not known is empty', async () => {
    const [, first, second] = (await readBack()).worksheets
    expect(first.getRow(4).values).toEqual([undefined, "'=1+1", -2.5, -3, 1, 'measured'])
    expect(second.getRow(4).getCell(2).type).toBe(ValueType.Null)
  })

  it('sheets have names of their own that a spreadsheet takes', async () => {
    const names = (await readBack()).worksheets.map(({ name }) => name)
    expect(new Set(names).size).toBe(3)
    for (const name of names) {
      expect(name.length).toBeLessThanOrEqual(31)
      expect(name).not.toMatch(/[\\/*?:[\]]/)
    }
  })
})
