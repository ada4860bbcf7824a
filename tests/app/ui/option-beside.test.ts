import { describe, expect, it } from 'vitest'
import { besideText } from '@/app/_ui/machine/option-beside'
import type { Option } from '@/app/_ui/machine/option-groups'
import { BLANK_OPTION } from '../../invented/blank-option'

const saving = (value: number, part: Partial<Option> = {}): Option => ({
  ...BLANK_OPTION,
  id: 'high-low-pumps',
  reasons: [],
  cautions: [],
  toConfirm: [],
  savedShare: { value, low: value - 0.05, high: value + 0.05, basis: 'estimated' },
  cycleTimeChangeShare: 0,
  ...part,
})

describe('what another setting does, in a sentence', () => {
  it('tells the difference to the best by itself: both are in doubt for the same reasons', () => {
    expect(besideText(saving(0.484), saving(0.4852))).toBe(
      'With these settings 48 ± 5 % of the input is saved, 0.12 points less than found best.',
    )
    expect(besideText(saving(0.53), saving(0.5))).toContain(', 3.0 points more than found best.')
    expect(besideText(saving(0.5), saving(0.5))).toContain(', as much as found best.')
  })

  it('tells payback and what strokes lose, and why something cannot be done', () => {
    const paybackYears = { value: 1.2, low: 1, high: 1.4, basis: 'estimated' as const }
    const moved = saving(0.2, { paybackYears, cycleTimeChangeShare: 0.022 })
    expect(besideText(moved, saving(0.3))).toMatch(
      / Payback 1\.20 ± 0\.20 years\. Working time changes by 2\.2 %\.$/,
    )
    const reasons = [{ code: 'flow-not-met', values: {}, message: 'Too little flow.' }]
    expect(besideText(saving(0, { savedShare: null, reasons }), saving(0.3))).toBe(
      'Cannot be done with these settings. Too little flow.',
    )
    // Found infeasible, moved to where it can be done: nothing to compare with.
    expect(besideText(saving(0.2), saving(0, { savedShare: null }))).toMatch(/of the input is saved\.$/)
  })
})
