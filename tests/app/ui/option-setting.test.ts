import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { entryText, settingText, sliderStep, slidTo, typedSetting } from '@/app/_ui/machine/option-setting'

describe('a setting as it is moved', () => {
  it('is shown with its unit, shares in percent', () => {
    expect(settingText('ventBar', 5)).toBe('5.00 bar')
    expect(settingText('minimumSpeedShare', 0.25)).toBe('25 %')
    expect(settingText('efficiencyClass', 'IE4')).toBe('IE4')
    expect(settingText('pumpCm3', null)).toBe('no data')
  })

  it('is typed in the unit shown, with a decimal comma too', () => {
    expect(typedSetting('minimumSpeedShare', '40', { low: 0.25, high: 1 })).toEqual({ value: 0.4 })
    expect(typedSetting('ventBar', '12,5', { low: 0, high: 180 })).toEqual({ value: 12.5 })
  })

  it('is refused in words where it is no number or out of range; the ends as shown are in it', () => {
    const range = { low: 5.8824, high: 136.33 }
    expect(typedSetting('unloadBar', 'high', range)).toEqual({ error: 'Enter a number.' })
    expect(typedSetting('unloadBar', '', range)).toEqual({ error: 'Enter a number.' })
    expect(typedSetting('unloadBar', '140', range)).toEqual({ error: 'From 5.88 to 136 bar.' })
    expect(typedSetting('unloadBar', '5.88', range)).toEqual({ value: 5.8824 })
    expect(typedSetting('unloadBar', '136', range)).toEqual({ value: 136.33 })
  })

  it('slides in round steps and never out of its range', () => {
    expect(sliderStep({ low: 0, high: 180 })).toBe(1)
    expect(sliderStep({ low: 0, high: 201.29 })).toBe(2)
    expect(sliderStep({ low: 0, high: 1 })).toBe(0.01)
    expect(sliderStep({ low: 0.25, high: 1 })).toBe(0.005)
    expect(slidTo(33.3, { low: 0, high: 201.29 })).toBe(34)
    const end = fc.double({ min: 0.01, max: 1000, noNaN: true })
    fc.assert(
      fc.property(end, end, fc.double({ min: 0, max: 1, noNaN: true }), (low, span, at) => {
        const range = { low, high: low + span }
        const value = slidTo(low + at * span, range)
        expect(value).toBeGreaterThanOrEqual(low)
        expect(value).toBeLessThanOrEqual(range.high)
        // A key that moves it by a hundredth of the range never leaves it where it was.
        if (value + span / 100 <= range.high) expect(slidTo(value + span / 100, range)).toBeGreaterThan(value)
        expect(typedSetting('ventBar', entryText('ventBar', value), range)).toHaveProperty('value')
      }),
    )
  })
})
