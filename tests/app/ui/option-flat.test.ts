import { describe, expect, it } from 'vitest'
import { flatText, searches, type Tried } from '@/app/_ui/machine/option-flat'

const tried = (setting: string, ...points: readonly (readonly [number, number, boolean?])[]): Tried[] =>
  points.map(([value, savedShare, feasible = true]) => ({ setting, value, savedShare, feasible }))

describe('how flat the best of a setting is', () => {
  it('names the values around the best that save within a point of it', () => {
    const [search] = searches(
      tried('unloadBar', [80, 0.2], [90, 0.293], [100, 0.3], [120, 0.291], [130, 0.2]),
    )
    expect(search.flat).toEqual({ from: 90, to: 120 })
    expect(flatText(search)).toBe(
      'Between 90.0 and 120 bar the saving stays within one point of the most, 30.0 % of the input at 100 bar.',
    )
  })

  it('ends at what the machine could not work with, and never takes it for the best', () => {
    const [search] = searches(
      tried('settingBar', [80, 0.4, false], [90, 0.299], [100, 0.3], [110, 0.295, false]),
    )
    expect(search.best?.value).toBe(100)
    expect(search.flat).toEqual({ from: 90, to: 100 })
    const [none] = searches(tried('settingBar', [80, 0.4, false], [90, 0.3, false]))
    expect(flatText(none)).toBe('None of the values tried can be done.')
  })

  it('does not reach over a dip', () => {
    const [search] = searches(tried('waitS', [10, 0.3], [20, 0.1], [30, 0.3001]))
    expect(search.flat).toEqual({ from: 30, to: 30 })
    expect(flatText(search)).toContain('Most is saved at 30.0 s')
  })

  it('says where a setting hardly matters, in percent where it is a share', () => {
    const [search] = searches(tried('minimumSpeedShare', [0.1, 0.5], [0.2, 0.501]))
    expect(flatText(search)).toMatch(/^Between 10 and 20 % .* this setting hardly matters\.$/)
  })

  it('keeps settings apart and in rising order, and leaves out what only one value was tried of', () => {
    const all = searches([
      ...tried('unloadBar', [90, 0.2], [80, 0.1]),
      ...tried('smallPumpCm3', [20, 0.2], [10, 0.1]),
      ...tried('highBar', [150, 0.1]),
    ])
    expect(all.map(({ setting }) => setting)).toEqual(['unloadBar', 'smallPumpCm3'])
    expect(all[0].tried.map(({ value }) => value)).toEqual([80, 90])
  })
})
