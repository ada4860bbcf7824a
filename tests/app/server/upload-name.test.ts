import { expect, it } from 'vitest'
import { attachment, uploadName } from '@/app/_server/upload-name'

const named = (query: string, disposition?: string) =>
  uploadName(
    new Request(`http://tankward.test/api/logs${query}`, {
      headers: disposition ? { 'Content-Disposition': disposition } : {},
    }),
  )

it('takes the name asked for, else that of Content-Disposition, else a plain one', () => {
  expect(named('?name=Schicht%20fr%C3%BCh.csv', 'attachment; filename="other.csv"')).toBe('Schicht früh.csv')
  expect(named('', 'attachment; filename="shift \\"1\\".csv"')).toBe('shift "1".csv')
  expect(named('', 'attachment; filename=plain.csv; size=3')).toBe('plain.csv')
  expect(named('')).toBe('log.csv')
})

it('prefers the extended form (the example of RFC 6266, section 5) and survives a broken one', () => {
  const example = 'attachment; filename="EURO rates"; filename*=utf-8\'\'%e2%82%ac%20rates'
  expect(named('', example)).toBe('€ rates')
  expect(named('', 'attachment; filename="a.csv"; filename*=UTF-8\'\'%e2%8')).toBe('a.csv')
})

it('keeps no folders and no control characters', () => {
  expect(named('?name=..%2F..%2Fetc%2Fpasswd')).toBe('passwd')
  expect(named('?name=C%3A%5Clogs%5Ca.csv')).toBe('a.csv')
  expect(named('?name=a%0d%0aSet-Cookie.csv')).toBe('aSet-Cookie.csv')
  expect(named('?name=%2F')).toBe('log.csv')
})

it('writes a header that holds any name', () => {
  expect(attachment('a"b.csv')).toBe(`attachment; filename="a_b.csv"; filename*=UTF-8''a%22b.csv`)
  expect(attachment("früh (1)'s.csv")).toMatch(/^[\x20-\x7e]+$/)
})
