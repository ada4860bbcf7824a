import { describe, expect, it } from 'vitest'
import { readWishes } from '@/app/_ui/logging-plan/wishes'
import { RECOMMENDED } from '@/lib/logging-plan/plan'

const site = { plannedHoursPerYear: 6000 }

describe('what an address asks of a logging plan', () => {
  it('nothing: the recommended sensors, ± 10 %, a second, the shifts of the planned hours', () => {
    expect(readWishes({}, site)).toEqual({
      wishes: { stations: RECOMMENDED, wanted: 0.1, shortestPhaseS: 1, shifts: 3, products: 1 },
      refused: [],
    })
  })
  it('what was chosen, sensors in the order of a walk', () => {
    const asked = {
      within: '5',
      shortest: '0.5',
      shifts: '1',
      products: '4',
      sensor: ['current:motor-supply', 'pressure:pump-outlet'],
    }
    expect(readWishes(asked, site)).toEqual({
      wishes: {
        stations: ['pressure:pump-outlet', 'current:motor-supply'],
        wanted: 0.05,
        shortestPhaseS: 0.5,
        shifts: 1,
        products: 4,
      },
      refused: [],
    })
  })
  it.each([
    [{ within: '7' }, 'within', '7'],
    [{ within: 'abc' }, 'within', 'abc'],
    [{ shortest: '-1' }, 'shortest', '-1'],
    [{ shifts: '0' }, 'shifts', '0'],
    [{ shifts: '1.5' }, 'shifts', '1.5'],
    [{ products: '1e9' }, 'products', '1e9'],
    [{ sensor: 'flow:nowhere' }, 'sensor', 'flow:nowhere'],
  ])('%o is refused, says what was expected, and the usual value stands in', (asked, entry, actual) => {
    const { wishes, refused } = readWishes(asked, site)
    expect(refused).toEqual([{ entry, expected: expect.stringMatching(/\S/), actual }])
    expect(wishes).toEqual(readWishes({}, site).wishes)
  })
})
