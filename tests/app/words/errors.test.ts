import { describe, expect, it } from 'vitest'
import { errorWords } from '@/app/_words/errors'
import { TankwardError } from '@/lib/errors'

describe('errors in words', () => {
  it('say where, what was expected, what was found and what to do', () => {
    const error = new TankwardError('channel-column-not-found', {
      fileName: 'shift.csv',
      line: 3,
      column: 'P1 [bar]',
      columns: 'Time | P2 [bar]',
    })
    const { title, detail } = errorWords(error)
    expect(title).toBe('A declared column is not in the file')
    expect(detail).toMatch(/^shift\.csv, line 3, column “P1 \[bar\]”: /)
    expect(detail).toContain('Time | P2 [bar]')
    expect(detail).toContain('Correct one of the two.')
  })
  it('a stored failure has the same words as the error it came from', () => {
    const stored = { code: 'interrupted', values: {} }
    expect(errorWords(stored)).toEqual(errorWords(new TankwardError('interrupted')))
  })
  it('a code without words shows itself and its values', () => {
    const { title, detail } = errorWords({ code: 'brand-new', values: { expected: 5 } })
    expect(title).toContain('brand-new')
    expect(detail).toContain('brand-new')
    expect(detail).toContain('expected: 5')
  })
})
