import { describe, expect, it } from 'vitest'
import { en } from '@/app/_words/en'
import { saidOf } from '@/app/_words/said'
import { sentenceOf } from '@/app/_words/sentence'

describe('what a statement carries is never dropped', () => {
  it('place first, then the sentence, then what the sentence did not use', () => {
    const values = { fileName: 'shift.csv', line: 1812, column: 'Q1', count: 2, noticedBy: 'range' }
    expect(sentenceOf('duplicate-row', values, en.problems, en)).toBe(
      'shift.csv, line 1812, column “Q1”: 2 rows repeat an earlier one; only the first was used. (noticed by: range)',
    )
  })
  it('a code without words shows itself and its values', () => {
    const said = sentenceOf('brand-new', { limitBar: 12.3456 }, en.problems, en)
    expect(said).toContain('brand-new')
    expect(said).toContain('limit bar: 12.3')
  })
  it('a code named like a method of every object has no words by accident', () => {
    expect(sentenceOf('constructor', {}, en.problems, en)).toContain('constructor')
  })
  it('nothing is said of values nobody knows', () => {
    expect(sentenceOf('file-repeated', { repeats: null, line: null }, en.problems, en)).toBe(
      'The same recording was given more than once and used once.',
    )
  })
})

describe('values as text', () => {
  it('counts fit their noun', () => {
    expect(saidOf({ count: 1 }, 'en').things('row', 'rows')).toBe('1 row')
    expect(saidOf({ count: 12_000 }, 'en').things('row', 'rows')).toBe('12,000 rows')
    expect(saidOf({}, 'en').count).toBe(1)
  })
  it('whole numbers are whole, others have three digits, and none before the point is lost', () => {
    const said = saidOf({ whole: 123_456, broken: 0.123456 }, 'en')
    expect(said.value('whole')).toBe('123,456')
    expect(said.value('broken')).toBe('0.123')
    expect(saidOf({ rpm: 1467.5 }, 'en').value('rpm')).toBe('1,468')
    expect(said.value('missing')).toBe('–')
  })
  it('shares are percent, and nothing where there is no number', () => {
    const said = saidOf({ share: 0.1234, text: 'x' }, 'en')
    expect(said.percent('share', (share) => `by ${share}`)).toBe('by 12.3 %')
    expect(said.percent('missing', (share) => `by ${share}`)).toBe('')
    expect(said.rest()).toEqual(['text: x'])
  })
  it('follow the language', () => {
    expect(saidOf({ broken: 1234.5 }, 'de').value('broken')).toBe('1.235')
    expect(saidOf({ broken: 0.5 }, 'de').value('broken')).toBe('0,5')
  })
})
