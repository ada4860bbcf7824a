import { renderToStaticMarkup } from 'react-dom/server'
import { describe, expect, it } from 'vitest'
import { IntervalParts } from '@/app/_ui/explain/interval-parts'
import { tiedTogether } from '@/app/_ui/explain/tied-parts'

const part = (source: string, share: number, below = share, above = share) => ({
  source,
  name: `Name of ${source}`,
  column: null as string | null,
  below,
  above,
  halfWidth: Math.sign(share) * Math.sqrt(Math.abs(share)),
  shareOfVariance: share,
  goneIfKnown: 0,
})
const textOf = (parts: ReturnType<typeof part>[]) =>
  renderToStaticMarkup(<IntervalParts parts={parts} unit="kWh" />).replaceAll(/<[^>]*>/g, ' ')

describe('parts of an interval as they are read', () => {
  it('say of what narrows it that it takes off, and why others exceed the whole', () => {
    const text = textOf([part('leakage', 1.24), part('noLoadCurrent', -0.25), part('edges', 0.01)])
    expect(text).toContain('124 %')
    expect(text).toContain('takes off 25 %')
    expect(text).toContain('partly cancel')
    expect(text).not.toMatch(/−25|-25/)
  })

  it('stand on one line where those of a kind cancel, and still make up the whole', () => {
    const text = textOf([
      { ...part('pumpFlowOffset', 3.5), column: 'Q1' },
      { ...part('returnFlowOffset', -2.75), column: 'Q2' },
      part('leakage', 0.25),
    ])
    expect(text).toMatch(/Offsets of sensors, together\s+Q1; Q2/)
    // 3.5 − 2.75 = 0.75 of the variance, so half-widths of √3.5 and √2.75 leave √0.75 = 0.87.
    expect(text).toMatch(/75 %/)
    expect(text).not.toMatch(/350 %|takes off/)
    expect(text).toContain('Those on one line partly cancel')
    expect(tiedTogether([part('a', 0.7), part('b', 0.3)], 0.01).map(({ name }) => name)).toEqual([
      'Name of a',
      'Name of b',
    ])
    // What takes off next to nothing leaves the others their lines.
    expect(tiedTogether([part('leakage', 1.02), part('displacement', -0.02)], 0.05)).toHaveLength(2)
    const sides = tiedTogether([part('leakage', 1, 3, 1), part('displacement', -0.5, -2, -0.6)], 0.01)
    expect(sides).toHaveLength(1)
    expect(sides[0].below).toBeCloseTo(Math.sqrt(5), 12)
    expect(sides[0].above).toBeCloseTo(0.8, 12)
  })

  it('say nothing of cancelling where nothing cancels', () => {
    expect(textOf([part('leakage', 0.8), part('edges', 0.2)])).not.toContain('cancel')
  })

  it('name the small ones together, so that none is dropped', () => {
    const text = textOf([part('leakage', 0.99), part('edges', 0.005), part('voltage', 0.005)])
    expect(text).toMatch(/Each less than 1 % of the variance: name of edges; name of voltage\./)
  })

  it('tell each side apart where a part reaches further to one of them', () => {
    expect(textOf([part('reliefLeak', 1, 0, 0.046)])).toContain('+0.046')
    expect(textOf([part('leakage', 1, 0.34, 0.098)])).toContain('−0.34 / +0.098')
  })
})
