import fc from 'fast-check'
import { expect, it } from 'vitest'
import { newStamp, readStamp } from '@/lib/import/stamp'

const two = (n: number): string => String(n).padStart(2, '0')

it('the quick way to read a time gives what the thorough one gives', () => {
  const part = fc.nat({ max: 65 })
  const fraction = fc.option(fc.tuple(fc.constantFrom('.', ','), fc.stringMatching(/^\d{1,6}$/)))
  fc.assert(
    fc.property(
      fc.constantFrom('T', ' '),
      fc.nat({ max: 26 }),
      part,
      part,
      fraction,
      (gap, h, m, s, decimals) => {
        const text = `2026-03-02${gap}${two(h)}:${two(m)}:${two(s)}${decimals?.join('') ?? ''}`
        const [quick, thorough] = [newStamp(), newStamp()]
        const isRead = readStamp(text, quick)
        // A zone behind it leads past the quick way.
        expect(isRead).toBe(readStamp(`${text} UTC`, thorough))
        expect(isRead).toBe(h <= 24 && m <= 59 && s <= 60)
        if (isRead) expect({ ...quick, zoneMinutes: 0 }).toEqual(thorough)
      },
    ),
    { numRuns: 2000 },
  )
})
