import { describe, expect, it } from 'vitest'
import { foundHint, foundText, givenText, pressureLimitBar } from '@/app/_ui/level-text'
import type { ChannelDeclaration } from '@/lib/contract/machine'
import { levelsWith } from '../../invented/levels'

const sensor = (accuracy?: ChannelDeclaration['accuracy'], unit: ChannelDeclaration['unit'] = 'bar') => [
  { column: 'P', quantity: 'pressure', location: 'pump-outlet', unit, accuracy } as const,
]

describe('a level as text', () => {
  it('is no finer than its pressure sensor', () => {
    // 0.5 % of 250 bar is 1.25 bar: whole bars. 0.1 % of 100 bar is 0.1 bar.
    expect(foundText('deadHeadBar', 93.13, sensor({ percentOfFullScale: 0.5, fullScale: 250 }))).toBe(
      '93 bar',
    )
    expect(foundText('deadHeadBar', 93.13, sensor({ percentOfFullScale: 0.1, fullScale: 100 }))).toBe(
      '93.1 bar',
    )
    expect(foundText('standbyBelowBar', 17.84, sensor({ percentOfFullScale: 1, fullScale: 400 }))).toBe(
      '18 bar',
    )
    // A sensor too coarse for the level leaves its first digit.
    expect(foundText('unloadedBelowBar', 7.31, sensor({ percentOfFullScale: 5, fullScale: 400 }))).toBe(
      '7 bar',
    )
  })

  it('takes a hundredth of the level where no accuracy was entered, and other units as they are', () => {
    expect(pressureLimitBar(sensor(), 187)).toBeCloseTo(1.87, 9)
    expect(pressureLimitBar(sensor({ percentOfReading: 2 }), 50)).toBeCloseTo(1, 9)
    // 1 psi = 0.0689476 bar (NIST SP 811).
    expect(pressureLimitBar(sensor({ percentOfFullScale: 1, fullScale: 3000 }, 'psi'), 50)).toBeCloseTo(
      30 * 0.0689476,
      4,
    )
  })

  it('carries its unit, and stands as entered where somebody entered it', () => {
    expect(foundText('runningPowerKW', 1.237, [])).toBe('1.2 kW')
    expect(foundText('runningCurrentA', 8.46, [])).toBe('8.5 A')
    expect(foundText('noFlowShare', 0.0512, [])).toBe('5.1 % of pump flow')
    expect(givenText('deadHeadBar', 93.13)).toBe('93.13 bar')
    expect(givenText('fullFlowShare', 0.925)).toBe('92.5 % of pump flow')
  })

  it('is hinted at beside an empty entry, in the unit of the entry', () => {
    const seen = (told: Parameters<typeof levelsWith>[0], isLatest = true) => ({
      logId: 'a',
      fileName: 'shift.csv',
      isLatest,
      levels: levelsWith(told),
      channels: sensor({ percentOfFullScale: 0.5, fullScale: 250 }),
    })
    const found = { found: 93.13, foundFrom: 'log', decides: true } as const
    expect(foundHint('deadHeadBar', seen({ deadHeadBar: found }))).toBe('Found in the latest log: 93 bar.')
    expect(foundHint('deadHeadBar', seen({ deadHeadBar: found }, false))).toBe('Found in shift.csv: 93 bar.')
    expect(foundHint('noFlowShare', seen({ noFlowShare: { ...found, found: 0.05 } }))).toBe(
      'Found in the latest log: 0.050.',
    )
    expect(foundHint('runningCurrentA', seen({ runningCurrentA: { found: 8, foundFrom: 'machine' } }))).toBe(
      'From the machine’s data for the latest log: 8.0 A; its sensors tell otherwise.',
    )
    expect(foundHint('standbyBelowBar', seen({}))).toBe('No such level in the latest log.')
  })
})
