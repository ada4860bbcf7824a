import fc from 'fast-check'
import { expect, it } from 'vitest'
import { channelNames } from '@/app/_jobs/channel-names'
import { storable, storableText } from '@/app/_jobs/storable'

it('makes of any text one that PostgreSQL holds: no zero character, no half pair', () => {
  const anything = fc.string({ unit: 'binary' }).map((text) => `${text}\ud800\0`)
  fc.assert(
    fc.property(anything, (text) => {
      const kept = storableText(text)
      expect(kept).not.toContain('\0')
      expect(Buffer.from(kept, 'utf8').toString('utf8')).toBe(kept)
      expect(storableText(kept)).toBe(kept)
    }),
  )
})

it('leaves everything else of a value as it is', () => {
  const value = { a: [1, null, 'x', { b: true, c: 1.5 }], d: undefined, 'k\0': 'v\0' }
  expect(storable(value)).toEqual({
    a: [1, null, 'x', { b: true, c: 1.5 }],
    d: undefined,
    'k\ufffd': 'v\ufffd',
  })
})

it('names every channel apart, also from what is stored beside them', () => {
  const columns = ['P1', 'time', 'P1', 'stream:work', 'P1'].map((column) => ({ column }))
  expect(channelNames(columns)).toEqual(['P1', 'time #2', 'P1 #2', 'stream:work #2', 'P1 #3'])
})
