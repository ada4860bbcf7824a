import { describe, expect, it } from 'vitest'
import { describeWarnings } from '@/app/_words/describe-proof'
import { proofWords } from '@/app/_words/en/proof'
import { MEASURE_STATES } from '@/lib/contract/measure'
import { ADJUSTMENTS, DRIVERS, PROOF_PARTS, VERDICTS } from '@/lib/contract/proof'
import { PROOF_WARNING_CODES } from '@/lib/proof/warning-codes'

describe('measures and proofs have words', () => {
  it.each([
    ['states', proofWords.states, MEASURE_STATES],
    ['steps', proofWords.steps, MEASURE_STATES],
    ['verdicts', proofWords.verdicts, VERDICTS],
    ['drivers', proofWords.drivers, DRIVERS],
    ['adjustments', proofWords.adjustments, ADJUSTMENTS],
    ['parts', proofWords.parts, PROOF_PARTS],
    ['warnings', proofWords.warnings, PROOF_WARNING_CODES],
  ])('%s', (_name, entries, codes) => {
    expect(Object.keys(entries).sort()).toEqual([...codes].sort())
  })

  it.each(PROOF_WARNING_CODES)('%s is a sentence', (code) => {
    const [{ message }] = describeWarnings([
      { code, values: { count: 2, variable: 'idle-time', side: 'before' } },
    ])
    expect(message).toMatch(/^\S.*[.!](?: \(.*\))?$/)
    expect(message).not.toContain('undefined')
  })

  it('pressures are said in bar, loads too', () => {
    const [moved, load] = describeWarnings([
      { code: 'setting-moved', values: { beforePa: 160e5, afterPa: 140e5 } },
      { code: 'not-adjusted', values: { variable: 'load-pressure', before: 50e5, after: 80e5 } },
    ])
    expect(moved.message).toContain('160 bar before, 140 bar now')
    expect(load.message).toContain('50 before, 80 now')
  })
})
