import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { fromBits, toBits } from '@/lib/samples/codec-bits'

describe('toBits and fromBits', () => {
  it('give any whole numbers of 32 bits back, however many and however far apart', () => {
    const near = fc.integer({ min: -3, max: 3 })
    const any = fc.oneof(near, fc.integer({ min: -(2 ** 31), max: 2 ** 31 - 1 }), fc.constant(-(2 ** 31)))
    fc.assert(
      fc.property(fc.oneof(fc.array(near, { maxLength: 200 }), fc.array(any, { maxLength: 200 })), (list) => {
        const whole = Int32Array.from(list)
        expect(fromBits(toBits(whole), whole.length)).toEqual(whole)
      }),
      { numRuns: 500 },
    )
  })

  it('have every width there is', () => {
    for (let width = 0; width <= 32; width++) {
      const whole = Int32Array.from({ length: 65 }, (_, i) => (width === 0 ? 0 : (i % 2) * 2 ** (width - 1)))
      expect(fromBits(toBits(whole), 65)).toEqual(whole)
    }
  })

  it('refuse bytes that are not as many as their widths say', () => {
    const bytes = toBits(Int32Array.from({ length: 100 }, (_, i) => i * i))
    expect(fromBits(bytes.subarray(0, bytes.length - 4), 100)).toBeNull()
    expect(fromBits(Uint8Array.of(...bytes, 0, 0, 0, 0), 100)).toBeNull()
    expect(fromBits(bytes, 20_000)).toBeNull()
    expect(fromBits(new Uint8Array(0), 1)).toBeNull()
  })
})
