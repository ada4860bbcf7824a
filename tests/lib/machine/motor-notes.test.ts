import { describe, expect, it } from 'vitest'
import { motorNotes } from '@/lib/machine/motor-notes'
import { HAND_MACHINE } from '../../laws/hand-machine'

const codes = (over: Partial<typeof HAND_MACHINE.motor>) =>
  motorNotes({ ...HAND_MACHINE.motor, ...over }).map(({ code }) => code)

describe('what is said of a motor’s plate', () => {
  it('nothing where it is complete and agrees', () => {
    expect(codes({})).toEqual([])
    expect(codes({ efficiencyAt75: 0.925, efficiencyAt50: 0.919 })).toEqual([])
  })
  it('every default, by its own code', () => {
    expect(codes({ ratedEfficiency: undefined, ratedCurrentA: undefined })).toEqual([
      'assumed-efficiency',
      'assumed-rated-current',
    ])
  })
  it('part-load figures that no motor can have, with what they imply and what is used', () => {
    const [note] = motorNotes({ ...HAND_MACHINE.motor, efficiencyAt50: 0.96 })
    expect(note.code).toBe('part-load-efficiencies-not-used')
    expect(note.values.impliedShare).toBeLessThan(0.1)
    expect(note.values.usedShare).toBeCloseTo(0.42, 2)
  })
  it('part-load power factors that contradict the stated no-load current; not those that agree', () => {
    expect(codes({ powerFactorAt50: 0.4 })).toEqual(['part-load-power-factors-not-used'])
    expect(codes({ powerFactorAt50: 0.73 })).toEqual([])
  })
})
