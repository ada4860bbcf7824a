import { describe, expect, it } from 'vitest'
import { harmless, tableCsv } from '@/app/_server/reports/csv'
import type { ReportTable } from '@/app/_server/reports/report'

const table = (rows: ReportTable['rows']): ReportTable => ({
  id: 'made-up',
  title: 'Made up',
  columns: [{ header: 'Machine' }, { header: 'Waste', unit: 'kWh', isEstimate: true }],
  rows,
})
const lines = (rows: ReportTable['rows']) => tableCsv(table(rows)).replace('\uFEFF', '').split('\r\n')

describe('tables as CSV', () => {
  // RFC 4180, section 2: rules 1 (CRLF), 5 to 7 (quotes around commas, quotes and line breaks, quotes doubled).
  it('quotes what RFC 4180 wants quoted, and nothing else', () => {
    const named = (name: string) => tableCsv(table([[name, null]])).split('basis"\r\n')[1]
    expect(named('Baler 4')).toBe('Baler 4,,,,\r\n')
    expect(named('Baler, old')).toBe('"Baler, old",,,,\r\n')
    expect(named('the "new" one')).toBe('"the ""new"" one",,,,\r\n')
    expect(named('two\nlines')).toBe('"two\nlines",,,,\r\n')
  })

  it('has a header with units, and an estimate’s value, ends and basis apart', () => {
    expect(lines([['Baler', { value: 12.5, low: -1.25, high: 20, basis: 'estimated' }]])).toEqual([
      'Machine,Waste [kWh],"Waste, 95 % low","Waste, 95 % high","Waste, basis"',
      'Baler,12.5,-1.25,20,estimated',
      '',
    ])
  })

  it('leaves numbers numbers, negative ones too, and what is not known empty', () => {
    expect(lines([['Baler', -3.5]])[1]).toBe('Baler,-3.5,,,')
    expect(lines([['Baler', null]])[1]).toBe('Baler,,,,')
    expect(lines([['Baler', Number.NaN]])[1]).toBe('Baler,,,,')
  })

  // OWASP, "CSV Injection" (from memory): cells that begin with = + - @, tab, carriage return or line feed, also in full width.
  it.each(['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠'])(
    'text that begins with %j is no formula',
    (start) => {
      const text = `${start}HYPERLINK("http://a.test";"b")`
      expect(harmless(text)).toBe(`'${text}`)
      expect(tableCsv(table([[text, null]]))).toContain(`"'${text.replaceAll('"', '""')}"`)
    },
  )

  it('leaves text alone that begins otherwise', () => {
    expect(harmless('4 + 5 = 9')).toBe('4 + 5 = 9')
  })
})
