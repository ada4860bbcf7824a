import { describe, expect, it } from 'vitest'
import { proofSetupSchema } from '@/lib/contract/proof'
import { sideOfLog } from '@/lib/proof/choose-logs'

const plain = proofSetupSchema.parse({})
const log = (startDay: string, endDay = startDay) => ({ logId: startDay, startDay, endDay })

describe('on which side of a change a log lies', () => {
  it('before or after the day of installation, which is neither', () => {
    expect(sideOfLog(log('2026-10-01'), plain, '2026-10-02')).toBe('baseline')
    expect(sideOfLog(log('2026-10-02'), plain, '2026-10-02')).toBeNull()
    expect(sideOfLog(log('2026-10-01', '2026-10-02'), plain, '2026-10-02')).toBeNull()
    expect(sideOfLog(log('2026-10-03'), plain, '2026-10-02')).toBe('comparison')
  })

  it('all are baseline while nothing is installed', () => {
    expect(sideOfLog(log('2026-10-01'), plain, null)).toBe('baseline')
  })

  it('days that a person sets count, both inclusive', () => {
    const setup = {
      ...plain,
      baseline: { from: '2026-08-01', to: '2026-08-31' },
      comparison: { from: '2026-09-10', to: '2026-09-20' },
    }
    const sides = [
      '2026-07-31',
      '2026-08-01',
      '2026-08-31',
      '2026-09-01',
      '2026-09-10',
      '2026-09-20',
      '2026-09-21',
    ]
    expect(sides.map((day) => sideOfLog(log(day), setup, '2026-10-02'))).toEqual([
      null,
      'baseline',
      'baseline',
      null,
      'comparison',
      'comparison',
      null,
    ])
  })

  it('a log that is left out counts on neither', () => {
    expect(sideOfLog(log('2026-10-01'), { ...plain, leftOut: ['2026-10-01'] }, '2026-10-02')).toBeNull()
  })
})
