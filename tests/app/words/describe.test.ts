import { expect, describe as group, it } from 'vitest'
import { describe, describeProblem } from '@/app/_words/describe'
import type { Dictionary } from '@/app/_words/dictionary'
import { en } from '@/app/_words/en'
import { type Analysis, type Finding, resultSchema } from '@/lib/contract/result'
import { siteSchema } from '@/lib/contract/site'
import { BLANK_OPTION } from '../../invented/blank-option'
import { levelsWith } from '../../invented/levels'

const estimate = (value: number) => ({ value, low: value, high: value, basis: 'estimated' as const })

const ledger = {
  electricIn: estimate(1),
  motorLoss: estimate(0.1),
  pumpLoss: estimate(0.2),
  overRelief: estimate(0.7),
  unloading: estimate(0),
  intoSystem: estimate(0),
  metering: null,
  work: null,
  unaccounted: estimate(0),
}

const EARLY: Finding = {
  code: 'cracks-early',
  values: { ratio: 0.625 },
  kWhInLog: estimate(1),
  costPerYear: estimate(10),
  evidence: { seconds: 8, first: { startS: 0, endS: 8 }, worst: null },
  checks: [{ code: 'dirt', values: {} }],
}

const analysis: Analysis = {
  version: 1,
  machine: { name: 'Invented unit' },
  site: siteSchema.parse({}),
  log: {
    rowsRead: 1,
    rowsUsed: 1,
    rowsRejected: 0,
    startedAt: null,
    endedAt: null,
    durationS: 1,
    sampleIntervalS: 1,
    gaps: [],
    channels: [],
    offsets: [],
    problems: [{ code: 'unreadable-cell', line: 7, column: 'P1', count: 3, values: { example: 'OL' } }],
  },
  phases: [],
  corrections: [],
  levels: levelsWith(),
  cycles: { count: 0, meanS: null, spreadS: null, kWhPerCycle: null },
  ledgerKWh: ledger,
  ledgerByPhase: {},
  meterSharesKWh: {
    idle: estimate(1),
    overRelief: estimate(0),
    metering: null,
    work: estimate(0),
    unaccounted: estimate(0),
  },
  auxiliariesKWh: null,
  ownCircuitsKWh: null,
  notSeparable: [],
  idle: { hours: 0, electricKWh: estimate(0), costPerYear: estimate(0), byLongestHoldS: {} },
  reliefFit: {
    crackingBar: estimate(100),
    settingBar: estimate(160),
    overrideBarPerLpm: estimate(0.1),
    findings: [EARLY],
  },
  findings: [EARLY],
  pumpHealth: { volumetricEfficiency: [], efficiencyPlane: [] },
  model: { nmbe: null, cvRmse: null, averagingIntervalS: 60, againstMeasuredPower: false, trusted: false },
  options: [
    {
      id: 'vent-relief-at-idle',
      ...BLANK_OPTION,
      reasons: [{ code: 'already-unloads', values: {} }],
      cautions: [{ code: 'hot-oil', values: {} }],
    },
  ],
  ranking: 'energy',
  combinations: [],
  bestUnderBudget: null,
  marginalCostCurve: [],
}

group('an analysis in words', () => {
  const result = describe(analysis)
  it('is a result of the contract', () => {
    expect(resultSchema.parse(result)).toEqual(result)
  })
  it('has a sentence beside every code', () => {
    expect(result.log.problems[0].message).toBe(
      'line 7, column “P1”: 3 cells hold no reading, the first one “OL”. They count as missing, never as zero.',
    )
    expect(result.reliefFit?.findings[0].message).toContain('62.5 %')
    expect(result.findings[0].message).toContain('62.5 %')
    expect(result.findings[0].checks[0].message).toContain('poppet')
    expect(result.options[0].reasons[0].message).toContain('already unloads')
    expect(result.options[0].cautions[0].message).toContain('hot')
  })
  it('changes nothing else', () => {
    expect(result.ledgerKWh).toEqual(analysis.ledgerKWh)
    expect(describe({ ...analysis, reliefFit: null }).reliefFit).toBeNull()
  })
  it('speaks another language from another dictionary', () => {
    const other: Dictionary = { ...en, problems: { ...en.problems, 'unreadable-cell': () => 'Unlesbar.' } }
    expect(describeProblem(analysis.log.problems[0], other).message).toContain('Unlesbar.')
  })
})
